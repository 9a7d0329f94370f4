/* What every test needs, in the order in which cmocka wants it. */
#ifndef SENBETSU_TESTS_SUPPORT_TEST_H
#define SENBETSU_TESTS_SUPPORT_TEST_H

#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

/* In a layer's program each test file's main goes by another name (see unit/meson.build), and is
 * declared as any other function is. */
#ifdef main
int main(void);
#endif

/* Fails with the error's own sentence. */
#define assert_ok(call, err)                                                                       \
    do {                                                                                           \
        if (!(call))                                                                               \
            fail_msg("%s: %s", #call, (err)->text);                                                \
    } while (0)

/* The call must fail and say this. */
#define assert_says(call, err, part)                                                               \
    do {                                                                                           \
        if (call)                                                                                  \
            fail_msg("%s succeeded; it should have failed", #call);                                \
        if (strstr((err)->text, part) == NULL)                                                     \
            fail_msg("%s said \"%s\", not \"%s\"", #call, (err)->text, part);                      \
    } while (0)

#endif
