#include "senbetsu/store/fish.h"
