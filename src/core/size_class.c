#include "senbetsu/core/size_class.h"
