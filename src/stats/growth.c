#include "senbetsu/stats/growth.h"

#include <math.h>

double condition_factor(double weight_g, double length_mm)
{
    double length_cm = length_mm / 10;
    return 100 * weight_g / (length_cm * length_cm * length_cm);
}

double growth_per_day(double before, double after, double days)
{
    return 100 * log(after / before) / days;
}
