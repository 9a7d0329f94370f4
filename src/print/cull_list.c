#include "senbetsu/print/cull_list.h"
