#include "senbetsu/core/entry.h"
