/* Codes name parents, spawnings, lots and standards; the breeder chooses them. */
#ifndef SENBETSU_CORE_CODE_H
#define SENBETSU_CORE_CODE_H

#include "senbetsu/base/err.h"
#include <stdbool.h>

enum {
    CODE_CHARACTERS = 32,
    CODE_SIZE = 4 * CODE_CHARACTERS + 1,
    CODES_SIZE = 8 * CODE_SIZE, /* several codes, separated by ';' */
    LABEL_SIZE = 4 * 40 + 1,    /* 40 characters */
    NOTE_SIZE = 4 * 200 + 1,    /* 200 characters */
};

/* 1 to 32 characters that can be shown (utf8_printable), no comma, semicolon, plus sign or blank at
 * either end. On false the sentence starts with `what` ("the parent's code"). */
bool code_check(const char *code, const char *what, struct err *err);

/* An aspect's or fault's own code: 1 to 32 of a-z 0-9 _ -, starting with a letter; it names a CSV
 * column, so the fixed columns of the fish form are refused. */
bool code_check_plain(const char *code, const char *what, struct err *err);

/* Is `code` one of the codes of `list`, which are separated by ';'? */
bool code_in_list(const char *list, const char *code);

/* Takes the first code off such a list: `*list` goes on to what follows. False at its end. */
bool code_next(const char **list, char ret_code[CODE_SIZE]);

#endif
