#include "senbetsu/base/alloc.h"
