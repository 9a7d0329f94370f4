/* Forms over a record: their lines, what stands in them and what is taken from them go by the
 * record's table of columns, so that a new column is on its form as soon as it has a label. */
#include "senbetsu/base/text.h"
#include "senbetsu/screens/screens.h"

static struct field_spec line_of(const struct column *column)
{
    struct field_spec line = {.label = column->label,
                              .hint = column->hint,
                              .required = column->required || column->form_required};
    switch (column->kind) {
    case COLUMN_CODE:
    case COLUMN_DAM:
    case COLUMN_SIRE:
        line.check = check_code;
        break;
    case COLUMN_CODES:
    case COLUMN_SIRES:
        line.kind = FIELD_LIST;
        line.check = check_codes;
        break;
    case COLUMN_TERM:
        line.choices = column->terms;
        line.choice_count = column->term_count;
        break;
    case COLUMN_WHOLE:
        line.kind = FIELD_NUMBER;
        line.lowest = column->lowest;
        line.highest = column->highest;
        break;
    case COLUMN_DAY:
        line.check = check_day;
        break;
    case COLUMN_CV:
    case COLUMN_NOTE:
        break;
    }
    return line;
}

void record_form_init(struct record_form *lines, const struct column *columns, int count,
                      const void *record, const char *title, struct form *form)
{
    char buffer[CODES_SIZE];
    lines->count = 0;
    for (int i = 0; i < count; i++)
        if (columns[i].label != NULL) {
            lines->columns[lines->count] = &columns[i];
            lines->specs[lines->count++] = line_of(&columns[i]);
        }
    form_init(form, title, lines->specs, lines->count);
    for (int i = 0; i < lines->count; i++) {
        const struct column *column = lines->columns[i];
        if (column->kind != COLUMN_TERM)
            form_set(form, i, column_text(column, record, buffer));
        else if (column_known(column, record))
            form->fields[i].choice = (int)column_number(column, record);
    }
}

int record_form_line(const struct record_form *lines, const struct column *column)
{
    int line = 0;
    while (lines->columns[line] != column)
        line++;
    return line;
}

void record_form_read(const struct record_form *lines, const struct form *form, void *ret_record)
{
    for (int i = 0; i < lines->count; i++) {
        const struct column *column = lines->columns[i];
        const struct field *field = &form->fields[i];
        bool chosen = field->choices != NULL;
        if (chosen && field->choice_count == 0)
            continue;
        columns_init(column, 1, ret_record);
        if (column->kind == COLUMN_TERM)
            column_set_number(column, ret_record, field->choice);
        else
            column_parse(column, chosen ? field->choices[field->choice].word : field->value,
                         ret_record, NULL);
    }
}
