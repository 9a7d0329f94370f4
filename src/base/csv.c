#include "senbetsu/base/csv.h"
