/* Small symmetric matrices, row by row: the linear algebra that a regression needs. */
#ifndef PAWNVANE_SYMMETRIC_H
#define PAWNVANE_SYMMETRIC_H

#include <stdbool.h>

enum { SYMMETRIC_MAX = 16 };

/* Inverts a symmetric, positive definite matrix of n by n in place by its Cholesky factor (G. Golub, C. Van Loan, Matrix
 * Computations, chapter 4). False, and the matrix is spoilt, if it is not positive definite to working precision.
 * n is at most SYMMETRIC_MAX. */
bool symmetric_invert(double *matrix, int n);

#endif
