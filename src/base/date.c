#include "senbetsu/base/date.h"
