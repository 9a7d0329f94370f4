#include "support/farm.h"
#include "senbetsu/base/alloc.h"
#include "support/launch.h"
#include "support/source.h"
#include <ctype.h>
#include <dirent.h>
#include <inttypes.h>
#include <unistd.h>

enum { ARGUMENTS = 32, LOOKING_MS = 300 };

static const char *program(void)
{
    const char *path = getenv("SENBETSU_PROGRAM");
    if (path == NULL)
        fail_msg("SENBETSU_PROGRAM does not say where the program is");
    return path;
}

/* What the program is told of its clock. */
struct set_clock {
    char preload[4096], clock[64], sanitiser[256];
    const char *environment[5];
};

static const char *const *clock_set_to(int64_t second, bool stands, struct set_clock *set)
{
    const char *options = getenv("ASAN_OPTIONS");
    snprintf(set->preload, sizeof set->preload, "LD_PRELOAD=%s", getenv("SENBETSU_SET_CLOCK"));
    snprintf(set->clock, sizeof set->clock, "SET_CLOCK=%" PRId64, second);
    /* A sanitised program minds what is loaded before its runtime. */
    snprintf(set->sanitiser, sizeof set->sanitiser, "ASAN_OPTIONS=%s:verify_asan_link_order=0",
             options != NULL ? options : "");
    const char *const environment[] = {set->preload, set->clock, set->sanitiser,
                                       stands ? "CLOCK_STANDS=1" : NULL, NULL};
    memcpy(set->environment, environment, sizeof environment);
    return set->environment;
}

/* Where a test sets the clock, what it begins with was entered before any day that it sets: a
 * ledger from the future would be told of first. */
int farm_import(const struct farm *farm, struct text *out, const char *kind, const char *path)
{
    enum { IN_2025 = 1735732800 };
    const char *command[] = {program(), "--ledger", farm->ledger, "import", kind, path, NULL};
    struct set_clock set;
    bool sets = getenv("SENBETSU_SET_CLOCK") != NULL;
    return launch_and_read(command, sets ? clock_set_to(IN_2025, false, &set) : NULL, out);
}

static void import_demo(const struct farm *farm, const char *kind, const char *file)
{
    char path[4096];
    source_path(file, path, sizeof path);
    struct text said;
    text_init(&said);
    if (farm_import(farm, &said, kind, path) != 0)
        fail_msg("import %s %s: %s", kind, path, said.data);
    text_done(&said);
}

int farm_setup_empty(void **state)
{
    struct farm *farm = calloc(1, sizeof *farm);
    const char *temporary = getenv("TMPDIR");
    snprintf(farm->folder, sizeof farm->folder, "%.40s/senbetsu-XXXXXX",
             temporary == NULL || *temporary == '\0' ? "/tmp" : temporary);
    if (mkdtemp(farm->folder) == NULL)
        fail_msg("cannot make a folder such as %s", farm->folder);
    snprintf(farm->ledger, sizeof farm->ledger, "%s/farm.db", farm->folder);
    *state = farm;
    return 0;
}

int farm_setup(void **state)
{
    farm_setup_empty(state);
    import_demo(*state, "parents", "demo/parents.csv");
    import_demo(*state, "spawnings", "demo/spawnings.csv");
    return 0;
}

int farm_setup_seasons(void **state)
{
    farm_setup(state);
    import_demo(*state, "rounds", "demo/rounds.csv");
    return 0;
}

/* With the folders in it, such as that of the daily copies. */
static int take_away(const char *path)
{
    DIR *folder = opendir(path);
    if (folder == NULL)
        return unlink(path);
    for (const struct dirent *entry; (entry = readdir(folder)) != NULL;) {
        char inner[512];
        snprintf(inner, sizeof inner, "%s/%s", path, entry->d_name);
        if (strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0)
            take_away(inner);
    }
    closedir(folder);
    return rmdir(path);
}

int farm_teardown(void **state)
{
    struct farm *farm = *state;
    int left = take_away(farm->folder);
    free(farm);
    return left;
}

int farm_run(const struct farm *farm, struct text *out, ...)
{
    const char *command[ARGUMENTS] = {program(), "--ledger", farm->ledger};
    va_list arguments;
    va_start(arguments, out);
    for (size_t i = 3; i < ARGUMENTS && (command[i] = va_arg(arguments, const char *)) != NULL; i++)
        ;
    va_end(arguments);
    struct text said;
    text_init(&said);
    int status = launch_and_read(command, NULL, out == NULL ? &said : out);
    text_done(&said);
    return status;
}

const char *farm_file(const struct farm *farm, const char *name, const char *content,
                      char *ret_path, size_t size)
{
    snprintf(ret_path, size, "%s/%s", farm->folder, name);
    FILE *file = fopen(ret_path, "wb");
    if (file == NULL || fputs(content, file) < 0 || fclose(file) != 0)
        fail_msg("cannot write %s", ret_path);
    return ret_path;
}

struct terminal *farm_screens(const struct farm *farm, int rows, int columns,
                              const char *const *environment)
{
    const char *command[] = {program(), "--ledger", farm->ledger, "--judge", "Ines", NULL};
    return terminal_open(&(struct terminal_setup){
        .command = command, .environment = environment, .rows = rows, .columns = columns});
}

struct terminal *farm_screens_at(const struct farm *farm, int64_t second, bool stands)
{
    struct set_clock set;
    return farm_screens(farm, 24, 80, clock_set_to(second, stands, &set));
}

void press(struct terminal *terminal, const char *keys)
{
    char names[256];
    text_copy(names, sizeof names, keys);
    for (char *name = strtok(names, " "); name != NULL; name = strtok(NULL, " "))
        terminal_key(terminal, name);
}

void farm_assert(struct terminal *terminal, bool good, const char *what, const char *part,
                 const char *file, int line)
{
    if (good)
        return;
    struct text screen;
    text_init(&screen);
    terminal_text(terminal, &screen);
    fprintf(stderr, "%s:%d: the screen %s \"%s\":\n%s", file, line, what, part, screen.data);
    text_done(&screen);
    _fail(file, line);
}

/* Does the text at `at` look like `form`, where 0 stands for any digit? */
static bool looks_like(const char *at, const char *form)
{
    for (; *form != '\0'; at++, form++) {
        if (*form == '0' ? !isdigit((unsigned char)*at) : *at != *form)
            return false;
    }
    return true;
}

/* What depends on the clock, turned into letters of the same width. */
static void mask_times(char *screen)
{
    static const char *const forms[] = {"0000-00-00", "00:00"};
    for (char *at = screen; *at != '\0'; at++) {
        for (size_t i = 0; i < sizeof forms / sizeof *forms; i++) {
            if (!looks_like(at, forms[i]))
                continue;
            for (size_t k = 0; forms[i][k] != '\0'; k++)
                at[k] = forms[i][k] == '0' ? 'x' : at[k];
        }
    }
}

/* The pace ends its line and may be too long for it: the number and all after it goes. */
static void mask_pace(struct text *screen)
{
    char *end = strstr(screen->data, " fish an h");
    if (end == NULL)
        return;
    char *begin = end;
    while (begin > screen->data && isdigit((unsigned char)begin[-1]))
        begin--;
    char *rest = alloc_text(strchr(end, '\n'));
    screen->length = (size_t)(begin - screen->data);
    text_add(screen, "(pace)");
    text_add(screen, rest);
    free(rest);
}

static void masked_picture(struct terminal *terminal, struct text *out)
{
    terminal_picture(terminal, out);
    mask_times(out->data);
    mask_pace(out);
}

void farm_assert_screen(struct terminal *terminal, const char *name, const char *file, int line)
{
    char path[256];
    snprintf(path, sizeof path, "tests/data/terminal/%s.txt", name);
    struct text now;
    text_init(&now);
    if (getenv("SENBETSU_REGENERATE") != NULL) {
        terminal_settle(terminal, LOOKING_MS);
        masked_picture(terminal, &now);
        assert_as_in_source(path, now.data);
    } else {
        struct text expected;
        source_file(path, &expected);
        bool same = terminal_is(terminal, masked_picture, expected.data);
        masked_picture(terminal, &now);
        if (!same)
            fprintf(stderr, "%s:%d: the screen is not as in %s; it is:\n%s", file, line, path,
                    now.data);
        text_done(&expected);
        if (!same)
            _fail(file, line);
    }
    text_done(&now);
}

void farm_assert_file(const char *path, const char *expected)
{
    struct text written;
    whole_file(path, &written);
    assert_string_equal(written.data, expected);
    text_done(&written);
}
