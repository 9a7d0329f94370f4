#include "senbetsu/store/ledger.h"
