#include "senbetsu/stats/proportion.h"
