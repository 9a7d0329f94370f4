/* From SQLite's result codes to sentences. */
#ifndef STORE_SQLITE_ERROR_H
#define STORE_SQLITE_ERROR_H

#include "senbetsu/base/err.h"

/* Says in one sentence what `code` means for the ledger at `path`; `detail` is SQLite's own message
 * and is shown only where no sentence of ours could help. Returns false. */
bool sqlite_error(const char *path, int code, const char *detail, struct err *err);

#endif
