#include "senbetsu/store/parents.h"
