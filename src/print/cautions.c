#include "senbetsu/print/cautions.h"
