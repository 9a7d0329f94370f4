#include "senbetsu/base/text.h"
