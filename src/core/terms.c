#include "senbetsu/core/terms.h"
