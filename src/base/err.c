#include "senbetsu/base/err.h"
