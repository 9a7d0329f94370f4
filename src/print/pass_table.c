#include "senbetsu/print/pass_table.h"
