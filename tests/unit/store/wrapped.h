/* The calls that change names and bring files to the disk, each counted: one of them can end the
 * process before it is made, or fail. What SQLite calls by itself is not counted. The linker leads
 * our own calls here (see meson.build). */
#ifndef SENBETSU_TESTS_STORE_WRAPPED_H
#define SENBETSU_TESTS_STORE_WRAPPED_H

enum wrapped_mode {
    WRAPPED_PASS,
    WRAPPED_KILL,     /* the process ends with KILLED */
    WRAPPED_FAIL,     /* that call fails with EIO */
    WRAPPED_FAIL_ON,  /* and all that follow */
    WRAPPED_NO_LINKS, /* every link() fails, as on a memory stick; the process ends at that call */
};

enum { KILLED = 77 };

/* From now on, calls counted from 0. */
void wrapped_set(enum wrapped_mode mode, int at);

/* Since wrapped_set. */
int wrapped_count(void);

#endif
