/* Plays a file of keys into a program in a pseudo-terminal: play KEYS PROGRAM [ARGUMENT …]
 *
 * One instruction a line; # begins a comment:
 *   wait TEXT      until the screen shows it
 *   gone TEXT      until it no longer does
 *   keys K K …     presses keys, by the names of terminal_key, one after another as a hand does
 *   scan DIGITS    a tag reader's burst: the digits and Enter at once
 *   show           prints the screen
 *   end            until the program has ended, with exit status 0 */
#include "support/terminal.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void show(struct terminal *terminal, FILE *out)
{
    struct text text;
    text_init(&text);
    terminal_text(terminal, &text);
    fprintf(out, "%s\n", text.data);
    text_done(&text);
}

/* Faster, and digits would be taken for a tag reader's. */
enum { HAND_MS = 150 };

static void press(struct terminal *terminal, char *names)
{
    for (char *name = strtok(names, " "); name != NULL; name = strtok(NULL, " ")) {
        terminal_key(terminal, name);
        terminal_settle(terminal, HAND_MS);
    }
}

static void scan(struct terminal *terminal, const char *digits)
{
    char burst[64];
    snprintf(burst, sizeof burst, "%s\r", digits);
    terminal_type(terminal, burst);
}

/* False where the program did not do what the line waits for. */
static bool play_line(struct terminal *terminal, char *line)
{
    char *rest = strchr(line, ' ');
    if (rest == NULL)
        rest = line + strlen(line);
    else
        *rest++ = '\0';
    if (*line == '\0' || *line == '#')
        return true;
    if (strcmp(line, "wait") == 0)
        return terminal_shows(terminal, rest);
    if (strcmp(line, "gone") == 0)
        return terminal_hides(terminal, rest);
    if (strcmp(line, "end") == 0)
        return terminal_status(terminal) == 0;
    if (strcmp(line, "keys") == 0)
        press(terminal, rest);
    else if (strcmp(line, "scan") == 0)
        scan(terminal, rest);
    else if (strcmp(line, "show") == 0)
        show(terminal, stdout);
    else
        return false;
    return true;
}

static bool play_file(struct terminal *terminal, FILE *keys, const char *path)
{
    char line[4096];
    for (int number = 1; fgets(line, sizeof line, keys) != NULL; number++) {
        line[strcspn(line, "\n")] = '\0';
        char whole[sizeof line];
        memcpy(whole, line, sizeof line);
        if (!play_line(terminal, line)) {
            fprintf(stderr, "%s, line %d (%s): the program did not follow. Its screen:\n", path,
                    number, whole);
            show(terminal, stderr);
            return false;
        }
    }
    return true;
}

int main(int argc, char **argv)
{
    FILE *keys = argc < 3 ? NULL : fopen(argv[1], "r");
    if (keys == NULL) {
        fprintf(stderr, "usage: play KEYS PROGRAM [ARGUMENT ...]\n");
        return 2;
    }
    struct terminal *terminal =
        terminal_open(&(struct terminal_setup){.command = (const char *const *)argv + 2});
    bool followed = play_file(terminal, keys, argv[1]);
    terminal_close(terminal);
    fclose(keys);
    return followed ? 0 : 1;
}
