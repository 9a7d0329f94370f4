#include "senbetsu/store/spawnings.h"
