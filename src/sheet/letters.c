#include "senbetsu/sheet/letters.h"
