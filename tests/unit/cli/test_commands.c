#include "private.h"
#include "support/source.h"

static void test_every_command_is_found_and_whole(void **state)
{
    (void)state;
    for (int i = 0; i < command_count; i++) {
        assert_ptr_equal(command_find(commands[i].name, NULL), &commands[i]);
        assert_non_null(commands[i].run);
        assert_int_equal(commands[i].needs & commands[i].takes, 0);
        assert_int_equal((commands[i].needs | commands[i].takes) & OPTIONS_EVERYWHERE, 0);
    }
    assert_null(command_find("frobnicate", NULL));
    assert_null(command_find("", NULL));
}

static void test_help_fits_a_terminal(void **state)
{
    (void)state;
    struct text help;
    text_init(&help);
    commands_help(&help);
    for (int i = 0; i < command_count; i++)
        command_help(&commands[i], &help);
    for (const char *line = help.data; *line != '\0'; line += strcspn(line, "\n"), line++)
        assert_in_range(strcspn(line, "\n"), 0, 82); /* bytes; "…" has three */
    text_done(&help);
}

static void test_usage_derives_from_the_row(void **state)
{
    (void)state;
    struct text usage;
    text_init(&usage);
    command_usage(command_find("pass", NULL), &usage);
    assert_string_equal(usage.data, "senbetsu pass --spawning S --stage T [--lot L] [--places N] "
                                    "[--standard NAME] [--dry-run] [--csv] [--ascii]");
    text_done(&usage);
}

/* Everything the table does not take is refused, for every command and option. */
static void test_options_are_checked_against_the_row(void **state)
{
    (void)state;
    for (int i = 0; i < command_count; i++) {
        const struct command *command = &commands[i];
        for (int option = 0; option < OPTION_COUNT; option++) {
            struct options options = {.command = command->name, .arguments = {"a", "b", "c", "d"}};
            struct err err;
            unsigned known = command->needs | command->takes | OPTIONS_EVERYWHERE;
            for (int j = 0; j < ARGUMENTS && command->arguments[j] != NULL; j++)
                options.argument_count++;
            for (int j = 0; j < OPTION_COUNT; j++)
                options.given[j] = j == option || (command->needs & OPTION_BIT(j)) != 0;
            assert_int_equal(command_check(command, &options, &err),
                             (known & OPTION_BIT(option)) != 0);
        }
    }
}

/* docs/commands.md is what help says, command by command. */
static void test_the_manual_is_what_help_says(void **state)
{
    (void)state;
    struct text manual;
    text_init(&manual);
    text_add(&manual, "# Commands\n\n"
                      "What `senbetsu help` prints, and `senbetsu help COMMAND` of each. The exit "
                      "status is 0\nwhen it is done, 1 when it could not be done (one sentence on "
                      "standard error says why,\nand nothing is half-written), 2 when the command "
                      "line is wrong.\n\n```\n");
    commands_help(&manual);
    text_add(&manual, "```\n");
    for (int i = 0; i < command_count; i++) {
        text_addf(&manual, "\n## %s\n\n```\n", commands[i].name);
        command_help(&commands[i], &manual);
        text_add(&manual, "```\n");
    }
    assert_as_in_source("docs/commands.md", manual.data);
    text_done(&manual);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_every_command_is_found_and_whole),
        cmocka_unit_test(test_help_fits_a_terminal),
        cmocka_unit_test(test_usage_derives_from_the_row),
        cmocka_unit_test(test_options_are_checked_against_the_row),
        cmocka_unit_test(test_the_manual_is_what_help_says),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
