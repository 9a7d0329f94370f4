/* What the machine says of itself: the only place with a clock, randomness and a host name. */
#ifndef SENBETSU_HOST_MACHINE_H
#define SENBETSU_HOST_MACHINE_H

#include "senbetsu/base/date.h"
#include <stdbool.h>
#include <stddef.h>

/* The system's clock in its own time zone. */
struct clock machine_clock(void);

/* Random bytes from the system. */
void machine_seed(uint8_t ret_seed[16]);

/* "pondhouse", or "station" where the machine has no name. */
void machine_name(char *ret_name, size_t size);

/* Does the file lie on a file system that other machines share? Known of NFS, SMB, AFS, Ceph, Coda
 * and 9P on Linux; elsewhere never. */
bool machine_shares(const char *path);

/* The same of the kind of a file system, as statfs() has it. */
bool machine_is_network(unsigned long kind);

#endif
