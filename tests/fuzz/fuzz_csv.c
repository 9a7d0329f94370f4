/* CSV as such: whatever is read is written and read again to the same fields. */
#include "fuzz.h"
#include "senbetsu/base/csv.h"

#include <string.h>

static void write_all(const struct csv *csv, struct text *out)
{
    for (int i = 0; i < csv->columns; i++)
        csv_add(out, csv->header[i], i == 0);
    csv_end_row(out);
    for (size_t row = 0; row < csv->row_count; row++) {
        const char *field = csv_first(csv, row);
        for (int i = 0; i < csv->columns; i++, field = csv_next(field))
            csv_add(out, field, i == 0);
        csv_end_row(out);
    }
}

static void hold_same(const struct csv *a, const struct csv *b)
{
    FUZZ_HOLDS(a->columns == b->columns && a->row_count == b->row_count);
    for (int i = 0; i < a->columns; i++)
        FUZZ_HOLDS(strcmp(a->header[i], b->header[i]) == 0 && csv_column(b, a->header[i]) == i);
    for (size_t row = 0; row < a->row_count; row++)
        for (int i = 0; i < a->columns; i++)
            FUZZ_HOLDS(strcmp(csv_field(a, row, i), csv_field(b, row, i)) == 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
    struct text in, out;
    struct csv first, second;
    struct err err = {0};
    text_init(&in);
    text_init(&out);
    text_add_bytes(&in, (const char *)bytes, length);
    if (!csv_parse(&in, &first, &err)) {
        fuzz_sentence(&err);
        FUZZ_HOLDS(strncmp(err.text, "line ", 5) == 0);
    } else {
        write_all(&first, &out);
        /* A row of one empty field is an empty line, which is no row. */
        if (first.columns > 1) {
            FUZZ_HOLDS(csv_parse(&out, &second, &err));
            hold_same(&first, &second);
            csv_done(&second);
        }
        csv_done(&first);
    }
    text_done(&in);
    text_done(&out);
    return 0;
}
