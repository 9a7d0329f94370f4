#include "senbetsu/base/number.h"
