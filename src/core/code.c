#include "senbetsu/core/code.h"
