#include "bench/base/symmetric.h"

#include <math.h>

/* A pivot that has lost all but this part of its diagonal element is rounding. */
static const double least_pivot = 1e-12;

bool symmetric_factorise(double *m, int n)
{
    for (int j = 0; j < n; j++) {
        double diagonal = m[j * n + j], pivot = diagonal;
        for (int k = 0; k < j; k++)
            pivot -= m[j * n + k] * m[j * n + k];
        if (!(pivot > least_pivot * diagonal))
            return false;
        m[j * n + j] = sqrt(pivot);
        for (int i = j + 1; i < n; i++) {
            double sum = m[i * n + j];
            for (int k = 0; k < j; k++)
                sum -= m[i * n + k] * m[j * n + k];
            m[i * n + j] = sum / m[j * n + j];
        }
    }
    return true;
}

void symmetric_solve(const double *factor, int n, double *b)
{
    for (int i = 0; i < n; i++) {
        for (int k = 0; k < i; k++)
            b[i] -= factor[i * n + k] * b[k];
        b[i] /= factor[i * n + i];
    }
    for (int i = n - 1; i >= 0; i--) {
        b[i] /= factor[i * n + i];
        for (int k = 0; k < i; k++)
            b[k] -= factor[i * n + k] * b[i];
    }
}

/* The lower triangle becomes its own inverse. */
static void invert_lower(double *m, int n)
{
    for (int j = 0; j < n; j++) {
        m[j * n + j] = 1 / m[j * n + j];
        for (int i = j + 1; i < n; i++) {
            double sum = 0;
            for (int k = j; k < i; k++)
                sum -= m[i * n + k] * m[k * n + j];
            m[i * n + j] = sum / m[i * n + i];
        }
    }
}

bool symmetric_invert(double *matrix, int n)
{
    double inverse[SYMMETRIC_MAX * SYMMETRIC_MAX] = {0};
    if (!symmetric_factorise(matrix, n))
        return false;
    invert_lower(matrix, n);
    for (int i = 0; i < n; i++) {
        for (int j = 0; j < n; j++) {
            double sum = 0;
            for (int k = i > j ? i : j; k < n; k++)
                sum += matrix[k * n + i] * matrix[k * n + j];
            inverse[i * n + j] = sum;
        }
    }
    for (int i = 0; i < n * n; i++)
        matrix[i] = inverse[i];
    return true;
}
