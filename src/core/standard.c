#include "senbetsu/core/standard.h"
