#include "senbetsu/core/tally.h"
