/* A terminal without a wall: runs a program in a pseudo-terminal and keeps its screen as an
 * emulator draws it, so that a test can press keys and read cells. Nothing sleeps: waiting means
 * reading the program's output until the screen says what is waited for, or until patience is at an
 * end. */
#ifndef SENBETSU_TESTS_SUPPORT_TERMINAL_H
#define SENBETSU_TESTS_SUPPORT_TERMINAL_H

#include "senbetsu/base/text.h"
#include <stdbool.h>
#include <stdint.h>
#include <sys/types.h>

struct terminal;

struct terminal_setup {
    const char *const *command;     /* program and arguments, NULL at the end */
    const char *const *environment; /* "NAME=value", added to a small fixed one; may be NULL */
    int rows, columns;              /* 0 = 24 and 80 */
};

/* How long a wait lasts: a minute; ten times that where the program runs under a checker, which
 * $SENBETSU_UNDER names ("valgrind --quiet"). Ends the process where no terminal can be had. */
struct terminal *terminal_open(const struct terminal_setup *setup);

/* Kills the program if it still runs. NULL is legal. */
void terminal_close(struct terminal *terminal);

/* Sends bytes as one write, as a tag reader does; or a key by the name that the keyboard gives it:
 * Enter, Escape, Tab, BackTab, Backspace, Delete, Up, Down, Left, Right, Home, End, PageUp,
 * PageDown, Space, F1, F2; anything else is sent as it is. */
void terminal_type(struct terminal *terminal, const char *bytes);
void terminal_key(struct terminal *terminal, const char *name);

/* Until the screen shows `part` in one of its lines; until it no longer does; until the whole
 * screen is `text`. False when patience ended or the program did. */
bool terminal_shows(struct terminal *terminal, const char *part);
bool terminal_hides(struct terminal *terminal, const char *part);
bool terminal_is(struct terminal *terminal,
                 void (*picture)(struct terminal *terminal, struct text *out), const char *text);

/* Does the screen show `part` now? */
bool terminal_has(struct terminal *terminal, const char *part);

/* Until the program writes anything at all. */
bool terminal_answers(struct terminal *terminal);

/* Reads until the program has said nothing for `ms`: for looking on and for pacing
 * keys, never for what a test must show. */
void terminal_settle(struct terminal *terminal, int ms);

/* How many bytes the program has written so far. */
int64_t terminal_bytes(const struct terminal *terminal);

/* Its process, to look at. */
pid_t terminal_process(const struct terminal *terminal);

/* Until the program ends: its exit status, 128 + the signal that ended it, or -1. */
int terminal_status(struct terminal *terminal);

void terminal_resize(struct terminal *terminal, int rows, int columns);

/* Cuts the line: the program gets SIGHUP and its terminal is gone. */
void terminal_hang_up(struct terminal *terminal);
void terminal_signal(struct terminal *terminal, int signal);

/* The screen's lines without their trailing blanks. */
void terminal_text(struct terminal *terminal, struct text *out);

/* The same, and after it how each cell looks: one letter a cell, and what each letter stands for.
 */
void terminal_picture(struct terminal *terminal, struct text *out);

/* Does the first cell of `part` on the screen stand out: bold, reversed or underlined? Coloured? */
bool terminal_stands_out(struct terminal *terminal, const char *part);
bool terminal_coloured(struct terminal *terminal);

/* Everything the program has written so far, as bytes: for dumb terminals and for counting. */
const struct text *terminal_output(const struct terminal *terminal);

#endif
