#include "senbetsu/store/passes.h"
