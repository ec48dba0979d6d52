"""SciPy's sparse direct solver and PyAMG.   usage: direct.py <network> <spsolve|pyamg>

spsolve  SuperLU as it comes; pyamg  classical multigrid as it comes, before each step of conjugate gradients, to 1e-8.
Processor time, one thread; building the matrix is not timed. The file is described in problem.h.
"""
import os
import sys
import time

for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS", "BLIS_NUM_THREADS"):
    os.environ[name] = "1"  # before numpy is imported

import json
import warnings

import numpy as np
import scipy
import scipy.sparse as sp
import scipy.sparse.linalg as sla

warnings.filterwarnings("ignore")
path, method = sys.argv[1:]
with open(path, "rb") as f:
    nx, ny, nz, _ = (int(v) for v in np.fromfile(f, np.int32, 4))
    east, north, up, sink, source = (np.fromfile(f, np.float64, nx * ny * nz) for _ in range(5))
sx, sy = nz, nz * nx
diagonal = sink + east + north + up
diagonal[sx:] += east[:-sx]
diagonal[sy:] += north[:-sy]
diagonal[1:] += up[:-1]
sides = (-up[:-1], 1), (-east[:-sx], sx), (-north[:-sy], sy)
a = sp.diags([diagonal] + [v for v, _ in sides] * 2, [0] + [d for _, d in sides] + [-d for _, d in sides], format="csr")
a.eliminate_zeros()

iterations, start = 0, time.process_time()
ready = start
if method == "spsolve":
    a = a.tocsc()
    start = ready = time.process_time()
    x, version = sla.spsolve(a, source, use_umfpack=False), scipy.__version__
else:
    import pyamg

    start = time.process_time()
    levels = pyamg.ruge_stuben_solver(a)
    ready = time.process_time()
    residuals = []
    x = levels.solve(source, tol=1e-8, accel="cg", maxiter=400, residuals=residuals)
    iterations, version = len(residuals) - 1, pyamg.__version__
end = time.process_time()
residual = float(np.linalg.norm(source - a @ x) / np.linalg.norm(source))
print(json.dumps({"setup_s": ready - start, "solve_s": end - ready, "iterations": iterations, "residual": residual,
                  "most_K": float(x.max()), "version": version}))
raise SystemExit(0 if residual < 2e-8 else 3)
