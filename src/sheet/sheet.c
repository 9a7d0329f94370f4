#include "senbetsu/sheet/sheet.h"
