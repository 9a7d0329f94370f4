#include "senbetsu/stats/effective.h"

double effective_number(const double *amounts, int count)
{
    double sum = 0;
    double squares = 0;
    for (int i = 0; i < count; i++) {
        sum += amounts[i];
        squares += amounts[i] * amounts[i];
    }
    return squares > 0 ? sum * sum / squares : 0;
}

double effective_parents(double dams, double sires)
{
    return dams > 0 && sires > 0 ? 4 * dams * sires / (dams + sires) : 0;
}

double inbreeding_per_generation(double effective)
{
    return 1 / (2 * effective);
}
