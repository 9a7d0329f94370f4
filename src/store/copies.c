#include "senbetsu/store/copies.h"
