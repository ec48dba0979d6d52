/* What the C programs share: read the network that bench/heat/solve-ours.mjs wrote, check the answer, print one JSON line.
   File: int32 nx ny nz 0, then five arrays of nx ny nz doubles: conductance east, north, up, sink to ambient (W/K), source (W).
   Cell (i, j, k) has the index k + nz (i + nx j). */
#ifndef PROBLEM_H
#define PROBLEM_H
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

typedef struct {
  int nx, ny, nz;
  long n, strideX, strideY;
  double *east, *north, *up, *sink, *source;
} Problem;

static void stop(const char *what, const char *which) {
  fprintf(stderr, "%s %s\n", what, which);
  exit(2);
}

/* BLAS libraries read their thread count when they are loaded: set it and start again. */
static void use_one_thread(char **argv) {
  const char *blas = getenv("OPENBLAS_NUM_THREADS"), *omp = getenv("OMP_NUM_THREADS");
  if (blas && omp && !strcmp(blas, "1") && !strcmp(omp, "1")) return;
  setenv("OPENBLAS_NUM_THREADS", "1", 1);
  setenv("OMP_NUM_THREADS", "1", 1);
  execv("/proc/self/exe", argv);
  stop("cannot restart with one thread:", argv[0]);
}

static double processor_seconds(void) {
  struct timespec t;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return t.tv_sec + 1e-9 * t.tv_nsec;
}

static Problem read_problem(const char *path) {
  Problem p;
  int head[4];
  FILE *f = fopen(path, "rb");
  if (!f || fread(head, sizeof(int), 4, f) != 4) stop("cannot read", path);
  p.nx = head[0], p.ny = head[1], p.nz = head[2];
  p.n = (long)p.nx * p.ny * p.nz, p.strideX = p.nz, p.strideY = (long)p.nz * p.nx;
  double **arrays[5] = {&p.east, &p.north, &p.up, &p.sink, &p.source};
  for (int a = 0; a < 5; a++) {
    *arrays[a] = malloc(p.n * sizeof(double));
    if (!*arrays[a] || fread(*arrays[a], sizeof(double), p.n, f) != (size_t)p.n) stop("cannot read", path);
  }
  fclose(f);
  return p;
}

/* Sum of all conductances of a cell. */
static double diagonal_of(const Problem *p, long c) {
  return p->sink[c] + p->east[c] + p->north[c] + p->up[c] + (c >= p->strideX ? p->east[c - p->strideX] : 0) +
         (c >= p->strideY ? p->north[c - p->strideY] : 0) + (c >= 1 ? p->up[c - 1] : 0);
}

/* |b - A x| / |b| from the conductances themselves. */
static double residual_of(const Problem *p, const double *x) {
  const double *g[3] = {p->up, p->east, p->north};
  const long stride[3] = {1, p->strideX, p->strideY};
  double rr = 0, bb = 0;
  for (long c = 0; c < p->n; c++) {
    double r = p->source[c] - p->sink[c] * x[c];
    for (int a = 0; a < 3; a++) {
      if (c + stride[a] < p->n) r -= g[a][c] * (x[c] - x[c + stride[a]]);
      if (c >= stride[a]) r -= g[a][c - stride[a]] * (x[c] - x[c - stride[a]]);
    }
    rr += r * r;
    bb += p->source[c] * p->source[c];
  }
  return sqrt(rr / bb);
}

static int report(const Problem *p, const double *x, double setup_s, double solve_s, int iterations, const char *version) {
  double most = -1e300, residual = residual_of(p, x);
  for (long c = 0; c < p->n; c++)
    if (x[c] > most) most = x[c];
  printf("{\"setup_s\": %.6f, \"solve_s\": %.6f, \"iterations\": %d, \"residual\": %.3e, \"most_K\": %.6f, \"version\": \"%s\"}\n",
         setup_s, solve_s, iterations, residual, most, version);
  return residual < 2e-8 ? 0 : 3; /* 1e-8, and the drift of a residual carried along */
}
#endif
