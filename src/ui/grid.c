#include "senbetsu/ui/grid.h"
