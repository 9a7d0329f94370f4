#include "senbetsu/base/clock.h"
