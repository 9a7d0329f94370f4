#include "senbetsu/store/judges.h"
