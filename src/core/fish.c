#include "senbetsu/core/fish.h"

int size_class_bu(int length_mm)
{
    if (length_mm < 1)
        return 0;
    if (length_mm <= 120)
        return 12;
    if (length_mm > 850)
        return 90;
    return (length_mm + 49) / 50 * 5;
}

int size_class_decimetre(int length_mm)
{
    enum { LARGEST = 8 };
    if (length_mm < 100)
        return 0;
    return length_mm / 100 < LARGEST ? length_mm / 100 : LARGEST;
}
