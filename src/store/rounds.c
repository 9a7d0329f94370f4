#include "senbetsu/store/rounds.h"
