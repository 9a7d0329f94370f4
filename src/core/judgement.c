#include "senbetsu/core/judgement.h"
