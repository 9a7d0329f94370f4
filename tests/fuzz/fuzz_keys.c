/* What a terminal sends: any bytes become keys, and the keys commands to an entry sheet whose
 * ledger now and then refuses. Whatever comes, the sheet shows what the ledger holds. */
#include "fuzz.h"
#include "senbetsu/ui/term.h"
#include "support/sheet_bench.h"

#include <fcntl.h>
#include <poll.h>
#include <pty.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <termios.h>
#include <unistd.h>

enum { BYTES_MOST = 256, KEYS_MOST = 512, KEY_KINDS = KEY_HANGUP };

static int master;

int LLVMFuzzerInitialize(int *count, char ***words)
{
    struct err err = {0};
    int slave;
    (void)count;
    (void)words;
    setenv("TERM", "xterm-256color", 1);
    setenv("LC_ALL", "C.UTF-8", 1);
    setenv("ESCDELAY", "1", 1);
    FUZZ_HOLDS(openpty(&master, &slave, NULL, NULL, NULL) == 0);
    FUZZ_HOLDS(dup2(slave, STDIN_FILENO) >= 0 && dup2(slave, STDOUT_FILENO) >= 0);
    FUZZ_HOLDS(fcntl(master, F_SETFL, O_NONBLOCK) == 0);
    FUZZ_HOLDS(term_enter(false, &err));
    struct termios line;
    FUZZ_HOLDS(tcgetattr(slave, &line) == 0);
    line.c_lflag &= ~(tcflag_t)(ISIG | IEXTEN); /* signals are not what this is about */
    FUZZ_HOLDS(tcsetattr(slave, TCSANOW, &line) == 0);
    atexit(term_leave);
    return 0;
}

/* What the program wrote to the terminal is thrown away. */
static void drain(void)
{
    char bytes[4096];
    while (read(master, bytes, sizeof bytes) > 0)
        ;
}

/* Types the bytes and waits until the terminal has them all. */
static void type(const uint8_t *bytes, size_t length)
{
    int there = 0;
    FUZZ_HOLDS(write(master, bytes, length) == (ssize_t)length);
    while (ioctl(STDIN_FILENO, FIONREAD, &there) == 0 && there < (int)length)
        poll(NULL, 0, 1);
}

/* Bytes that have begun a key and not ended it may end it in a later input: there are never more
 * keys than there were bytes. */
static size_t decode(const uint8_t *bytes, size_t length, struct key *keys)
{
    static size_t bytes_sent, keys_read;
    size_t count = 0;
    bytes_sent += length;
    drain();
    type(bytes, length);
    for (struct key key = term_read(0); key.kind != KEY_NONE; key = term_read(0)) {
        FUZZ_HOLDS(key.kind > KEY_NONE && key.kind < KEY_HANGUP);
        FUZZ_HOLDS(key.kind != KEY_CHARACTER || (key.code >= ' ' && key.code <= 0x10FFFF));
        FUZZ_HOLDS(++keys_read <= bytes_sent && count < KEYS_MOST);
        keys[count++] = key;
    }
    return count;
}

/* Digits score, capital letters do what they stand for in the list of commands, and the others
 * type. */
static struct sheet_command command_of(struct key key)
{
    static const char *const tags[] = {"", "T1", "T2", "elsewhere", "a,b", "K\xE2\x80\x8B"};
    struct sheet_command command = {.kind = COMMAND_TYPE,
                                    .number = (int)key.code,
                                    .text = tags[key.code % (sizeof tags / sizeof *tags)]};
    if (key.kind == KEY_RETURN)
        command.kind = COMMAND_ACCEPT;
    else if (key.kind == KEY_ERASE)
        command.kind = COMMAND_ERASE;
    else if (key.kind == KEY_ESCAPE)
        command.kind = COMMAND_CANCEL;
    else if (key.kind != KEY_CHARACTER)
        command.kind = COMMAND_FINISH;
    else if (key.code >= '0' && key.code <= '9') {
        command.kind = COMMAND_SCORE;
        command.number = (int)key.code - '0';
    } else if (key.code >= '@' && key.code <= '@' + COMMAND_LEAVE) {
        command.kind = (enum sheet_command_kind)(key.code - '@');
        command.number = (int)(key.code % 7) - 1;
    } else if (key.code >= '!' && key.code < '0') {
        command.kind = COMMAND_ENTER_MODE;
        command.number = (int)(key.code - '!') % (SHEET_MODE_COUNT + 1);
    }
    return command;
}

static void hold_in_bounds(const struct sheet *sheet)
{
    FUZZ_HOLDS(sheet->fish_count > 0 && sheet->current < sheet->fish_count);
    FUZZ_HOLDS(sheet->aspect >= 0 && sheet->aspect <= sheet->standard.aspect_count);
    FUZZ_HOLDS(sheet->mode < SHEET_MODE_COUNT);
    FUZZ_HOLDS(sheet->last == SIZE_MAX || sheet->last < sheet->fish_count);
}

static void hold_what_the_ledger_has(const struct bench *bench)
{
    for (size_t i = 0; i < bench->sheet.fish_count; i++) {
        const struct fish *shown = &bench->sheet.fish[i];
        if (shown->id == 0)
            continue;
        struct fish there = fake_port_fish(&bench->port, shown->id, 0);
        FUZZ_HOLDS(memcmp(shown->judgement.scores, there.judgement.scores,
                          sizeof there.judgement.scores) == 0);
        FUZZ_HOLDS(shown->judgement.faults == there.judgement.faults);
        FUZZ_HOLDS(shown->closed == there.closed && strcmp(shown->tag, there.tag) == 0);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
    static struct key keys[KEYS_MOST];
    if (length > BYTES_MOST)
        return -1;
    size_t count = decode(bytes, length, keys);
    struct bench *bench = bench_new(4);
    for (size_t i = 0; i < count; i++) {
        struct sheet_command command = command_of(keys[i]);
        size_t strokes = bench->port.stroke_count;
        bench->port.now_ms += 700;
        if (keys[i].code % 11 == 10)
            bench->port.fail_at = bench->port.calls + 1;
        struct sheet_effects effects = sheet_do(&bench->sheet, &command);
        bench->port.fail_at = 0;
        bool takes_back = command.kind == COMMAND_SCAN || command.kind == COMMAND_MISREAD;
        if (effects.alert && !takes_back)
            FUZZ_HOLDS(bench->port.stroke_count == strokes);
        hold_in_bounds(&bench->sheet);
    }
    hold_what_the_ledger_has(bench);
    bench_free(bench);
    return 0;
}
