/* Conjugate gradients with a multigrid cycle of HYPRE before each step, one process.
   usage: hypre <network> <amg|aggressive|pfmg|smg>
     amg         BoomerAMG as it comes         |  aggressive  with one aggressive level
     pfmg        structured, one axis at a time |  smg         structured, plane smoothing
   Processor time; filling the matrix is not timed. 1e-8 on |b - A x| / |b|. */
#include "problem.h"
#include <HYPRE.h>
#include <HYPRE_krylov.h>
#include <HYPRE_parcsr_ls.h>
#include <HYPRE_struct_ls.h>
#include <mpi.h>

static double setup_s, solve_s;
static HYPRE_Int iterations;

static HYPRE_IJVector plain_vector(long n, const double *values) {
  HYPRE_IJVector v;
  HYPRE_IJVectorCreate(MPI_COMM_WORLD, 0, n - 1, &v);
  HYPRE_IJVectorSetObjectType(v, HYPRE_PARCSR);
  HYPRE_IJVectorInitialize(v);
  HYPRE_IJVectorSetValues(v, n, NULL, values);
  HYPRE_IJVectorAssemble(v);
  return v;
}

/* BoomerAMG sees a general sparse matrix. */
static void solve_algebraic(const Problem *p, double *x, int aggressive) {
  long n = p->n;
  HYPRE_IJMatrix a;
  HYPRE_IJMatrixCreate(MPI_COMM_WORLD, 0, n - 1, 0, n - 1, &a);
  HYPRE_IJMatrixSetObjectType(a, HYPRE_PARCSR);
  HYPRE_Int *sizes = malloc(n * sizeof *sizes);
  for (long c = 0; c < n; c++) sizes[c] = 7;
  HYPRE_IJMatrixSetRowSizes(a, sizes);
  free(sizes);
  HYPRE_IJMatrixInitialize(a);
  const double *g[3] = {p->east, p->north, p->up};
  const long stride[3] = {p->strideX, p->strideY, 1};
  for (long c = 0; c < n; c++) {
    HYPRE_BigInt row = c, column[7];
    double value[7];
    HYPRE_Int m = 0;
    column[m] = c, value[m++] = diagonal_of(p, c);
    for (int d = 0; d < 3; d++) {
      if (g[d][c] != 0) column[m] = c + stride[d], value[m++] = -g[d][c];
      if (c >= stride[d] && g[d][c - stride[d]] != 0) column[m] = c - stride[d], value[m++] = -g[d][c - stride[d]];
    }
    HYPRE_IJMatrixSetValues(a, 1, &m, &row, column, value);
  }
  HYPRE_IJMatrixAssemble(a);
  HYPRE_IJVector vb = plain_vector(n, p->source), vx = plain_vector(n, x);
  HYPRE_ParCSRMatrix pa;
  HYPRE_ParVector pb, px;
  HYPRE_IJMatrixGetObject(a, (void **)&pa);
  HYPRE_IJVectorGetObject(vb, (void **)&pb);
  HYPRE_IJVectorGetObject(vx, (void **)&px);

  HYPRE_Solver pcg, amg;
  HYPRE_ParCSRPCGCreate(MPI_COMM_WORLD, &pcg);
  HYPRE_PCGSetTol(pcg, 1e-8);
  HYPRE_PCGSetMaxIter(pcg, 500);
  HYPRE_PCGSetTwoNorm(pcg, 1);
  HYPRE_BoomerAMGCreate(&amg);
  HYPRE_BoomerAMGSetTol(amg, 0);
  HYPRE_BoomerAMGSetMaxIter(amg, 1);
  HYPRE_BoomerAMGSetStrongThreshold(amg, 0.25);
  if (aggressive) HYPRE_BoomerAMGSetAggNumLevels(amg, 1);
  HYPRE_PCGSetPrecond(pcg, (HYPRE_PtrToSolverFcn)HYPRE_BoomerAMGSolve, (HYPRE_PtrToSolverFcn)HYPRE_BoomerAMGSetup, amg);
  double start = processor_seconds();
  HYPRE_ParCSRPCGSetup(pcg, pa, pb, px);
  double ready = processor_seconds();
  HYPRE_ParCSRPCGSolve(pcg, pa, pb, px);
  setup_s = ready - start, solve_s = processor_seconds() - ready;
  HYPRE_PCGGetNumIterations(pcg, &iterations);
  HYPRE_IJVectorGetValues(vx, n, NULL, x);
}

static HYPRE_StructVector box_vector(HYPRE_StructGrid grid, HYPRE_Int *low, HYPRE_Int *high, double *values) {
  HYPRE_StructVector v;
  HYPRE_StructVectorCreate(MPI_COMM_WORLD, grid, &v);
  HYPRE_StructVectorInitialize(v);
  HYPRE_StructVectorSetBoxValues(v, low, high, values);
  HYPRE_StructVectorAssemble(v);
  return v;
}

/* PFMG and SMG know the grid; symmetric storage: the cell and three links forward. */
static void solve_structured(const Problem *p, double *x, int smg) {
  HYPRE_Int low[3] = {0, 0, 0}, high[3] = {p->nz - 1, p->nx - 1, p->ny - 1};
  HYPRE_StructGrid grid;
  HYPRE_StructGridCreate(MPI_COMM_WORLD, 3, &grid);
  HYPRE_StructGridSetExtents(grid, low, high);
  HYPRE_StructGridAssemble(grid);
  HYPRE_Int offset[4][3] = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, entry[4] = {0, 1, 2, 3};
  HYPRE_StructStencil stencil;
  HYPRE_StructStencilCreate(3, 4, &stencil);
  for (int e = 0; e < 4; e++) HYPRE_StructStencilSetElement(stencil, e, offset[e]);
  HYPRE_StructMatrix a;
  HYPRE_StructMatrixCreate(MPI_COMM_WORLD, grid, stencil, &a);
  HYPRE_StructMatrixSetSymmetric(a, 1);
  HYPRE_StructMatrixInitialize(a);
  double *v = malloc(p->n * 4 * sizeof *v);
  for (long c = 0; c < p->n; c++) {
    v[4 * c] = diagonal_of(p, c);
    v[4 * c + 1] = -p->up[c], v[4 * c + 2] = -p->east[c], v[4 * c + 3] = -p->north[c];
  }
  HYPRE_StructMatrixSetBoxValues(a, low, high, 4, entry, v);
  HYPRE_StructMatrixAssemble(a);
  free(v);
  HYPRE_StructVector vb = box_vector(grid, low, high, p->source), vx = box_vector(grid, low, high, x);

  HYPRE_StructSolver pcg, before;
  HYPRE_StructPCGCreate(MPI_COMM_WORLD, &pcg);
  HYPRE_StructPCGSetTol(pcg, 1e-8);
  HYPRE_StructPCGSetMaxIter(pcg, 500);
  HYPRE_StructPCGSetTwoNorm(pcg, 1);
  if (smg) {
    HYPRE_StructSMGCreate(MPI_COMM_WORLD, &before);
    HYPRE_StructSMGSetMemoryUse(before, 0);
    HYPRE_StructSMGSetMaxIter(before, 1);
    HYPRE_StructSMGSetTol(before, 0);
    HYPRE_StructSMGSetZeroGuess(before);
    HYPRE_StructSMGSetNumPreRelax(before, 1);
    HYPRE_StructSMGSetNumPostRelax(before, 1);
    HYPRE_StructPCGSetPrecond(pcg, HYPRE_StructSMGSolve, HYPRE_StructSMGSetup, before);
  } else {
    HYPRE_StructPFMGCreate(MPI_COMM_WORLD, &before);
    HYPRE_StructPFMGSetMaxIter(before, 1);
    HYPRE_StructPFMGSetTol(before, 0);
    HYPRE_StructPFMGSetZeroGuess(before);
    HYPRE_StructPFMGSetRelaxType(before, 2); /* symmetric red-black */
    HYPRE_StructPFMGSetRAPType(before, 0);   /* Galerkin */
    HYPRE_StructPFMGSetNumPreRelax(before, 1);
    HYPRE_StructPFMGSetNumPostRelax(before, 1);
    HYPRE_StructPCGSetPrecond(pcg, HYPRE_StructPFMGSolve, HYPRE_StructPFMGSetup, before);
  }
  double start = processor_seconds();
  HYPRE_StructPCGSetup(pcg, a, vb, vx);
  double ready = processor_seconds();
  HYPRE_StructPCGSolve(pcg, a, vb, vx);
  setup_s = ready - start, solve_s = processor_seconds() - ready;
  HYPRE_StructPCGGetNumIterations(pcg, &iterations);
  HYPRE_StructVectorGetBoxValues(vx, low, high, x);
}

int main(int argc, char **argv) {
  if (argc != 3) stop("usage: hypre <network>", "<amg|aggressive|pfmg|smg>");
  const char *method = argv[2];
  use_one_thread(argv);
  setenv("HOME", "/tmp", 0); /* newer Open MPI refuses to start without one */
  MPI_Init(&argc, &argv);
  HYPRE_Init();
  Problem p = read_problem(argv[1]);
  double *x = calloc(p.n, sizeof *x);
  if (!strcmp(method, "pfmg") || !strcmp(method, "smg")) solve_structured(&p, x, !strcmp(method, "smg"));
  else solve_algebraic(&p, x, !strcmp(method, "aggressive"));
  int code = report(&p, x, setup_s, solve_s, (int)iterations, HYPRE_RELEASE_VERSION);
  fflush(stdout);
  HYPRE_Finalize();
  MPI_Finalize();
  return code;
}
