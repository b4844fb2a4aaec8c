/* Symmetric matrices, row by row: the linear algebra that a regression needs. */
#ifndef PAWNVANE_SYMMETRIC_H
#define PAWNVANE_SYMMETRIC_H

#include <stdbool.h>

enum { SYMMETRIC_MAX = 16 };

/* Inverts a symmetric, positive definite matrix of n by n in place by its Cholesky factor (G. Golub, C. Van Loan, Matrix
 * Computations, chapter 4). False, and the matrix is spoilt, if it is not positive definite to working precision.
 * n is at most SYMMETRIC_MAX. */
bool symmetric_invert(double *matrix, int n);

/* The two steps of solving A x = b, for A of any size up to SYMMETRIC_FACTOR_MAX: the lower triangle of A becomes its
 * Cholesky factor, and `b` becomes x. Of the upper triangle nothing is read. */
enum { SYMMETRIC_FACTOR_MAX = 40000 };
bool symmetric_factorise(double *matrix, int n);
void symmetric_solve(const double *factor, int n, double *b);

#endif
