#include "senbetsu/store/standards.h"
