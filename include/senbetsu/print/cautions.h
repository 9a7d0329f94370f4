/* The cautions at the foot of every printed list: humane killing, disposal, release, disease,
 * worker safety. They name the guidance, give no doses, and defer to local law and a vet. */
#ifndef SENBETSU_PRINT_CAUTIONS_H
#define SENBETSU_PRINT_CAUTIONS_H

#include <stddef.h>

/* One caution a paragraph, plain ASCII, unwrapped; NULL ends the list. */
extern const char *const cautions[];

#endif
