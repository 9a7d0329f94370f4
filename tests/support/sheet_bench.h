/* A sheet on a fake port with a small standard, and short ways to press its keys. */
#ifndef SENBETSU_TESTS_SUPPORT_SHEET_BENCH_H
#define SENBETSU_TESTS_SUPPORT_SHEET_BENCH_H

#include "support/fake_port.h"

/* Four aspects on a scale of 1 to 5 (typical 3), which give a keep when all are typical. */
enum { WHITE, HEAD, PATTERN, BODY, BENCH_ASPECTS };
enum { SPINE, EYE, WOUND, BENCH_FAULTS }; /* a knock-out, a deduction of 10, a hold */

struct bench {
    struct standard standard;
    struct fake_port port;
    struct sheet sheet;
    struct sheet_effects effects; /* of the last command */
    int commands;
};

struct standard bench_standard(void);

/* A bowl of `expected` fish in which nothing is judged yet; 0 = grows for ever. */
struct bench *bench_new(int expected);
void bench_free(struct bench *bench);

/* Ends the sheet as if the program were killed, and opens it anew from what the port holds. */
void bench_reopen(struct bench *bench, bool second_look);

/* One command. `bench_refused`: it must be answered by an alert. */
void bench_do(struct bench *bench, enum sheet_command_kind kind, int number);
void bench_refused(struct bench *bench, enum sheet_command_kind kind, int number, const char *part);
void bench_scan(struct bench *bench, const char *tag);

/* Types the text and accepts it. */
void bench_type(struct bench *bench, const char *text);

/* A fish of typical scores but for the first aspect, which gets `white`. */
void bench_judge_fish(struct bench *bench, int white);

struct fish *bench_current(struct bench *bench);
enum verdict bench_verdict(const struct bench *bench, size_t index);

/* Are the two sheets the same to the user, but for the message and the large verdict? Fails the
 * test where not. */
void assert_sheets_equal(const struct sheet *a, const struct sheet *b);

/* A deep copy, to be freed with sheet_done. */
struct sheet sheet_copy(const struct sheet *sheet);

#endif
