/* What must have been read before fish are killed, moved or thrown away, and whose guidance it is.
 */
#ifndef SENBETSU_PRINT_CAUTIONS_H
#define SENBETSU_PRINT_CAUTIONS_H

#include "senbetsu/print/page.h"

/* Disease, killing, the check for death, disposal, release, the worker's own safety. No doses; what
 * is allowed is left to local law and a vet. One a paragraph, plain ASCII, unwrapped; NULL ends the
 * list. */
extern const char *const cautions[];

/* A section of them, to stand before the work. */
void cautions_print(struct page *page);

/* A section that names the guidance, to stand at the end. */
void guidance_print(struct page *page);

#endif
