/* Reading and writing one member of a record by its row in the record's table. A member is reached
 * by its offset, so that one loop serves every kind of record; its type follows from the column's
 * kind, and numbers may be four or eight bytes wide. */
#include "senbetsu/core/column.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

bool column_is_text(const struct column *column)
{
    return column->kind != COLUMN_TERM && column->kind != COLUMN_WHOLE && column->kind != COLUMN_CV;
}

static const char *text_at(const struct column *column, const void *record)
{
    return (const char *)record + column->at;
}

static void set_text(const struct column *column, void *record, const char *text)
{
    text_copy((char *)record + column->at, column->size, text);
}

int64_t column_number(const struct column *column, const void *record)
{
    int32_t narrow;
    int64_t wide;
    if (column->size == sizeof wide) {
        memcpy(&wide, text_at(column, record), sizeof wide);
        return wide;
    }
    memcpy(&narrow, text_at(column, record), sizeof narrow);
    return narrow;
}

void column_set_number(const struct column *column, void *record, int64_t number)
{
    int32_t narrow = (int32_t)number;
    const void *from = column->size == sizeof number ? (const void *)&number : &narrow;
    memcpy((char *)record + column->at, from, column->size);
}

static bool check_codes(const struct column *column, const char *text, struct err *err)
{
    char code[CODES_SIZE];
    bool sires = column->kind == COLUMN_SIRES;
    if (strlen(text) >= column->size)
        return err_set(err, ERR_INPUT, "there are too many codes; %zu bytes are the most.",
                       column->size - 1);
    for (const char *at = text;; at++) {
        size_t length = strcspn(at, ";");
        text_copy(code, length + 1, at);
        if (!code_check(code, sires ? "a sire's code" : "the field", err))
            return false;
        if (sires && code_in_list(at + length, code))
            return err_set(err, ERR_INPUT, "%s is named twice.", code);
        at += length;
        if (*at == '\0')
            return true;
    }
}

static bool check_note(const char *text, struct err *err)
{
    if (strchr(text, '\n') != NULL)
        return err_set(err, ERR_INPUT, "a note must be one line.");
    return utf8_count(text) <= 200 ||
           err_set(err, ERR_INPUT, "the note is longer than 200 characters.");
}

static bool check_text(const struct column *column, const char *text, struct err *err)
{
    if (column->kind == COLUMN_NOTE)
        return check_note(text, err);
    if (column->kind == COLUMN_DAY)
        return date_valid(text) ||
               err_set(err, ERR_INPUT, "a date such as 2026-06-14 is expected, not \"%s\".", text);
    if (column->kind == COLUMN_CODES || column->kind == COLUMN_SIRES)
        return check_codes(column, text, err);
    return code_check(text, "the field", err);
}

static bool read_number(const struct column *column, const char *text, int64_t *ret,
                        struct err *err)
{
    char words[128];
    int cv = 0;
    if (column->kind == COLUMN_WHOLE)
        return number_whole(text, column->lowest, column->highest, ret) ||
               err_set(err, ERR_INPUT,
                       "a whole number from %" PRId64 " to %" PRId64 " is expected, not \"%s\".",
                       column->lowest, column->highest, text);
    if (column->kind == COLUMN_CV) {
        if (!number_millionths(text, 0, CV_ONE, &cv))
            return err_set(err, ERR_INPUT,
                           "a decimal number from 0 to 1 with at most six places is expected, not "
                           "\"%s\".",
                           text);
        *ret = cv;
        return true;
    }
    *ret = term_find(column->terms, column->term_count, text);
    return *ret >= 0 ||
           err_set(err, ERR_INPUT, "%s is expected, not \"%s\".",
                   term_list(column->terms, column->term_count, words, sizeof words), text);
}

bool column_parse(const struct column *column, const char *text, void *record, struct err *err)
{
    int64_t number = 0;
    if (text[0] == '\0')
        return true;
    if (column_is_text(column)) {
        if (!check_text(column, text, err))
            return false;
        set_text(column, record, text);
        return true;
    }
    if (!read_number(column, text, &number, err))
        return false;
    column_set_number(column, record, number);
    return true;
}

const char *column_text(const struct column *column, const void *record, char buffer[CODES_SIZE])
{
    if (column_is_text(column))
        return text_at(column, record);
    buffer[0] = '\0';
    int64_t number = column_number(column, record);
    if (number == column->unknown)
        return buffer;
    if (column->kind == COLUMN_TERM)
        return column->terms[number].word;
    if (column->kind == COLUMN_CV)
        number_from_millionths((int)number, buffer);
    else
        snprintf(buffer, NUMBER_SIZE, "%" PRId64, number);
    return buffer;
}

bool column_known(const struct column *column, const void *record)
{
    return column_is_text(column) ? text_at(column, record)[0] != '\0'
                                  : column_number(column, record) != column->unknown;
}

bool column_equal(const struct column *column, const void *a, const void *b)
{
    return column_is_text(column) ? strcmp(text_at(column, a), text_at(column, b)) == 0
                                  : column_number(column, a) == column_number(column, b);
}

void columns_init(const struct column *columns, int count, void *record)
{
    for (int i = 0; i < count; i++)
        if (column_is_text(&columns[i]))
            set_text(&columns[i], record, "");
        else
            column_set_number(&columns[i], record, columns[i].unknown);
}

void columns_merge(const struct column *columns, int count, const void *known, void *record)
{
    for (int i = 0; i < count; i++) {
        if (column_known(&columns[i], record))
            continue;
        if (column_is_text(&columns[i]))
            set_text(&columns[i], record, text_at(&columns[i], known));
        else
            column_set_number(&columns[i], record, column_number(&columns[i], known));
    }
}

bool columns_equal(const struct column *columns, int count, const void *a, const void *b)
{
    for (int i = 0; i < count; i++)
        if (!column_equal(&columns[i], a, b))
            return false;
    return true;
}
