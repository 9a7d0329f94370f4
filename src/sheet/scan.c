#include "senbetsu/sheet/scan.h"
