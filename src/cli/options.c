#include "senbetsu/cli/options.h"
#include "senbetsu/base/err.h"
