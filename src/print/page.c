#include "senbetsu/print/page.h"
