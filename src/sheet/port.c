#include "senbetsu/sheet/port.h"
