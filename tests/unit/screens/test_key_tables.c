/* What every table of keys must hold to, and README's list of them. */
#include "senbetsu/screens/screens.h"
#include "support/source.h"

#define ADDRESS(name) &name,
static const struct key_table *const tables[] = {SCREEN_KEY_TABLES(ADDRESS)};
enum { TABLES = sizeof tables / sizeof tables[0] };

typedef void see_key(const struct key_table *table, const struct key_row *row, const char *name);

struct iterator {
    const struct key_table *table;
    see_key *see;
};

static void walk_row(void *context, const struct key_row *row)
{
    const struct iterator *iterator = context;
    char names[128];
    char *rest = NULL;
    text_copy(names, sizeof names, row->keys);
    for (char *name = strtok_r(names, " ", &rest); name != NULL; name = strtok_r(NULL, " ", &rest))
        iterator->see(iterator->table, row, name);
}

static void for_every_key(see_key *see)
{
    for (int i = 0; i < TABLES; i++) {
        struct iterator iterator = {tables[i], see};
        keys_each(tables[i], walk_row, &iterator);
    }
}

static void see_one_meaning(const struct key_table *table, const struct key_row *row,
                            const char *name)
{
    int number;
    struct key key = key_named(name);
    if (strstr(name, "–") != NULL)
        return;
    if (key.kind == KEY_NONE)
        fail_msg("%s: there is no key %s", table->title, name);
    if (row->handler != NULL && keys_find(table, key, &number) != row)
        fail_msg("%s: %s has two meanings", table->title, name);
}

static void test_every_key_has_one_meaning(void **state)
{
    (void)state;
    for_every_key(see_one_meaning);
}

static struct text drawn(const struct key_table *table, bool help)
{
    struct grid grid;
    struct text text;
    grid_init(&grid, GRID_MIN_ROWS, GRID_MIN_COLUMNS);
    text_init(&text);
    if (!help)
        keys_footer(&grid, 0, 2, table);
    for (int page = 0; help && keys_help(&grid, table, page); page++)
        grid_text(&grid, &text);
    grid_text(&grid, &text);
    grid_done(&grid);
    return text;
}

static void see_in_help(const struct key_table *table, const struct key_row *row, const char *name)
{
    struct text text = drawn(table, true);
    assert_non_null(strstr(text.data, table->title));
    if (strstr(text.data, row->help) == NULL || strstr(text.data, name) == NULL)
        fail_msg("%s: help does not show %s \"%s\"", table->title, name, row->help);
    text_done(&text);
}

/* At the least size every help line and its keys can be read to the end. */
static void test_help_has_every_line(void **state)
{
    (void)state;
    for_every_key(see_in_help);
}

static void see_in_footer(const struct key_table *table, const struct key_row *row,
                          const char *name)
{
    char part[64];
    if (row->label == NULL || strncmp(row->keys, name, strlen(name)) != 0)
        return;
    struct text text = drawn(table, false);
    snprintf(part, sizeof part, "%s %s", name, row->label);
    if (strstr(text.data, part) == NULL)
        fail_msg("%s: the footer has no room for \"%s\"", table->title, part);
    text_done(&text);
}

static void test_footers_fit(void **state)
{
    (void)state;
    for_every_key(see_in_footer);
}

/* Every table has a way on from a key that does nothing. */
static void test_absent_keys_are_told(void **state)
{
    (void)state;
    char sentence[NO_KEY_SIZE];
    for (int i = 0; i < TABLES; i++) {
        keys_absent(tables[i], (struct key){KEY_FUNCTION, 12}, sentence);
        if (strstr(sentence, " shows the keys.") == NULL && strstr(sentence, " goes back.") == NULL)
            fail_msg("%s: \"%s\"", tables[i]->title, sentence);
    }
}

static bool is_on_keypad(const char *keys)
{
    char names[128];
    char *rest = NULL;
    text_copy(names, sizeof names, keys);
    for (char *name = strtok_r(names, " ", &rest); name != NULL; name = strtok_r(NULL, " ", &rest))
        if (strcmp(name, "Enter") == 0 || strchr("0123456789+-*/.", name[0]) != NULL)
            return true;
    return false;
}

static void see_on_keypad(void *context, const struct key_row *row)
{
    /* Seldom wanted; the selected line does the same, or a form that a key of the keypad opens; and
     * what is typed to find a line is letters. */
    static const char *const elsewhere[] = {"g", "t", "l", "f", "c", "e", "o", "v", "s", "# F3"};
    const struct iterator *iterator = context;
    for (size_t i = 0; i < sizeof elsewhere / sizeof elsewhere[0]; i++)
        if (strcmp(row->keys, elsewhere[i]) == 0)
            return;
    if (!is_on_keypad(row->keys))
        fail_msg("%s: the keypad has no key for \"%s\"", iterator->table->title, row->help);
}

/* Tables of one screen's modes, the last of them a menu by number. */
static const struct key_table *const modes[][3] = {
    {&sheet_keys, &sheet_pick_keys, &sheet_menu_keys},
    {&tally_keys, &tally_further_keys, &tally_menu_keys},
    {&first_look_keys, NULL, &first_look_more_keys},
};

static bool is_mode(const struct key_table *table)
{
    for (size_t i = 0; i < sizeof modes / sizeof modes[0]; i++)
        if (table == modes[i][0])
            return true;
    /* While a line is typed, the keypad's minus does what Backspace and Esc do. */
    return table == &sheet_line_keys || table == &tally_size_keys;
}

/* The keypad alone must do on every screen but a form, whose words need letters anyway. */
static void test_the_keypad_suffices(void **state)
{
    (void)state;
    for (int i = 0; i < TABLES; i++)
        if (tables[i] != &form_keys && !is_mode(tables[i])) {
            struct iterator iterator = {tables[i], NULL};
            keys_each(tables[i], see_on_keypad, &iterator);
        }
}

static bool keypad_does(const struct key_table *const tables_of[3], const struct key_row *wanted)
{
    for (int i = 0; i < 3; i++)
        for (size_t j = 0; tables_of[i] != NULL && j < tables_of[i]->count; j++) {
            const struct key_row *row = &tables_of[i]->rows[j];
            if (row->handler == wanted->handler && row->number == wanted->number &&
                is_on_keypad(row->keys))
                return true;
        }
    return false;
}

/* What has no key of the keypad in a mode has one in the menu; the aspects above and below are
 * reached by their numbers. */
static void test_menus_have_what_the_keypad_lacks(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof modes / sizeof modes[0]; i++)
        for (size_t j = 0; j < modes[i][0]->count; j++) {
            const struct key_row *row = &modes[i][0]->rows[j];
            if (row->handler != NULL && strcmp(row->keys, "Up") != 0 &&
                strcmp(row->keys, "Down") != 0 && !keypad_does(modes[i], row))
                fail_msg("%s: the keypad has no way to \"%s\"", modes[i][0]->title, row->help);
        }
}

/* Letters that a standard may give to its faults and aspects are not a screen's own; no small
 * letter is lost to both. */
static void test_letters_are_shared_out(void **state)
{
    (void)state;
    int number;
    for (char letter = 'a'; letter <= 'z'; letter++) {
        struct key key = {KEY_CHARACTER, (uint32_t)letter};
        bool own = keys_find(&sheet_keys, key, &number) != NULL;
        bool given = strchr(STANDARD_SMALL_LETTERS, letter) != NULL;
        if (own == given)
            fail_msg("'%c' is %s", letter, own ? "given away twice" : "nobody's");
        if (given)
            assert_null(keys_find(&tally_keys, key, &number));
    }
    for (uint32_t letter = 'A'; letter <= 'Z'; letter++) {
        assert_null(keys_find(&sheet_keys, (struct key){KEY_CHARACTER, letter}, &number));
        assert_null(keys_find(&tally_keys, (struct key){KEY_CHARACTER, letter}, &number));
    }
}

static const char begin[] =
    "<!-- keys: made from the program's own table; a test holds them against it -->\n";
static const char end[] = "<!-- end of keys -->\n";

static void test_readme_lists_every_key(void **state)
{
    (void)state;
    struct text readme, expected;
    source_file("README.md", &readme);
    const char *from = strstr(readme.data, begin);
    const char *to = strstr(readme.data, end);
    assert_non_null(from);
    assert_non_null(to);
    text_init(&expected);
    text_add_bytes(&expected, readme.data, (size_t)(from - readme.data));
    text_add(&expected, begin);
    for (int i = 0; i < TABLES; i++) {
        if (i > 0)
            text_add(&expected, "\n");
        keys_markdown(tables[i], &expected);
    }
    text_add(&expected, to);
    assert_as_in_source("README.md", expected.data);
    text_done(&expected);
    text_done(&readme);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_every_key_has_one_meaning),
        cmocka_unit_test(test_help_has_every_line),
        cmocka_unit_test(test_footers_fit),
        cmocka_unit_test(test_absent_keys_are_told),
        cmocka_unit_test(test_the_keypad_suffices),
        cmocka_unit_test(test_menus_have_what_the_keypad_lacks),
        cmocka_unit_test(test_letters_are_shared_out),
        cmocka_unit_test(test_readme_lists_every_key),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
