/* Sparse Cholesky factorisation by CHOLMOD.   usage: cholmod <network> <metis|amd>
   Setup is ordering and factorisation, solve one source. Processor time, one thread; filling the matrix is not timed. */
#include "problem.h"
#include <cholmod.h>
#include <stdint.h>

#define TEXT_(x) #x
#define TEXT(x) TEXT_(x)

int main(int argc, char **argv) {
  if (argc != 3) stop("usage: cholmod <network>", "<metis|amd>");
  use_one_thread(argv);
  Problem p = read_problem(argv[1]);
  cholmod_common com;
  cholmod_l_start(&com);
  com.useGPU = 0;
  com.nmethods = 1;
  com.method[0].ordering = strcmp(argv[2], "amd") ? CHOLMOD_METIS : CHOLMOD_AMD;
  com.postorder = 1;

  cholmod_sparse *a = cholmod_l_allocate_sparse(p.n, p.n, 4 * p.n, 1, 1, -1, CHOLMOD_REAL, &com);
  int64_t *column = a->p, *row = a->i, m = 0;
  double *value = a->x;
  for (long c = 0; c < p.n; c++) {
    column[c] = m;
    row[m] = c, value[m++] = diagonal_of(&p, c);
    if (p.up[c] != 0) row[m] = c + 1, value[m++] = -p.up[c];
    if (p.east[c] != 0) row[m] = c + p.strideX, value[m++] = -p.east[c];
    if (p.north[c] != 0) row[m] = c + p.strideY, value[m++] = -p.north[c];
  }
  column[p.n] = m;
  cholmod_dense *b = cholmod_l_zeros(p.n, 1, CHOLMOD_REAL, &com);
  memcpy(b->x, p.source, p.n * sizeof(double));

  double start = processor_seconds();
  cholmod_factor *factor = cholmod_l_analyze(a, &com);
  if (!factor || !cholmod_l_factorize(a, factor, &com) || com.status != CHOLMOD_OK) stop("no factor with", argv[2]);
  double ready = processor_seconds();
  cholmod_dense *x = cholmod_l_solve(CHOLMOD_A, factor, b, &com);
  double end = processor_seconds();
  if (!x) stop("no solution with", argv[2]);
  const char *version = TEXT(CHOLMOD_MAIN_VERSION) "." TEXT(CHOLMOD_SUB_VERSION) "." TEXT(CHOLMOD_SUBSUB_VERSION);
  return report(&p, x->x, ready - start, end - ready, 0, version);
}
