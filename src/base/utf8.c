#include "senbetsu/base/utf8.h"
