/* A disk that fails under SQLite: its writes, from one commit on until it is mended. For tests of
 * what is said and done about it; every call of every kind is tried by tests/faults. */
#ifndef SENBETSU_TESTS_SUPPORT_FAILING_DISK_H
#define SENBETSU_TESTS_SUPPORT_FAILING_DISK_H

/* Every write fails with this errno from now on: ENOSPC, EIO; 0 = none does. */
void disk_fails_with(int cause);

#endif
