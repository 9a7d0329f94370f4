/* A screen on the stack: what shows and what answers keys. The one on top answers; the others wait
 * below it as they were. The stack knows no screen: a screen is a kind, with its functions and its
 * table of keys, and a state of its own. */
#ifndef SENBETSU_SCREENS_SCREEN_H
#define SENBETSU_SCREENS_SCREEN_H

#include "senbetsu/base/watch.h"
#include "senbetsu/core/code.h"
#include "senbetsu/store/ledger.h"
#include "senbetsu/ui/form.h"
#include "senbetsu/ui/keys.h"

/* How long a screen lies idle before it looks into the ledger again: others may be at work. */
enum { IDLE_MS = 5000, SCREENS_MOST = 16 };

/* Everything but `draw` and `done` may be NULL. */
struct screen_kind {
    const struct key_table *keys;
    /* Fills the state from the ledger: when the screen comes to the top, and when something
     * was written. */
    bool (*refresh)(struct app *app, void *state, struct err *err);
    void (*draw)(struct app *app, void *state, struct grid *grid);
    /* Of a screen that does more with a key than its table says; else the key's row is carried out,
     * and a key without one is told to do nothing. */
    void (*key)(struct app *app, void *state, struct key key);
    /* Of a screen that must know even of keys that are thrown away (app_hold_keys). */
    void (*thrown_away)(struct app *app, void *state, struct key key);
    /* It is known now whether what was in doubt was recorded (ERR_UNCERTAIN); `refresh` where there
     * is no such function. */
    void (*settled)(struct app *app, void *state, bool recorded);
    /* How long to wait for a key; IDLE_MS where there is no such function. */
    int (*wait_ms)(const void *state);
    /* Nothing was pressed for that long; where there is no such function, `refresh` if
     * something was written. */
    void (*idle)(struct app *app, void *state);
    void (*done)(void *state); /* frees it */
    int rows;                  /* the fewest it can be drawn in; 0 = GRID_MIN_ROWS */
};

struct screen {
    const struct screen_kind *kind;
    void *state;
};

struct app {
    struct ledger *ledger;
    int64_t judge; /* 0 = not said */
    char judge_name[CODE_SIZE];
    struct screen screens[SCREENS_MOST];
    int screen_count;
    bool stale;            /* the screen on top has to be filled anew */
    int64_t seen;          /* the ledger when the screen was filled (ledger_changed) … */
    char seen_day[11];     /* … and the day of that */
    char added[CODE_SIZE]; /* a spawning just added: home selects it */
    char message[ERR_TEXT_SIZE];
    bool alert;
    struct pressed {
        int64_t from_ms, to_ms; /* when the key that is handled was pressed: between these two; 0 =
                                   nobody said */
    } pressed;
    /* Keys that were typed before the screen was seen (app_hold_keys). */
    bool holds, shown;
    struct pressed held; /* the last of them, or the one that was refused */
    struct watch watch;  /* for work that takes long: a sign of it is shown, and can be left */
    struct daily *daily; /* today's copy while it is being made, else NULL */
    bool uncertain;      /* nobody knows whether the last change was recorded */
    struct err gone;     /* ERR_GONE once the ledger has been missing from its place */
    int bounce_ms;       /* how long a closing key is held back on the sheet, 0 = not at all */
};

/* Puts a screen on top; the stack owns the state from now on. */
void app_push(struct app *app, const struct screen_kind *kind, void *state);

/* Leaves the screen on top: its state is gone when this returns. */
void app_pop(struct app *app);

/* Leaves all. */
void app_pop_all(struct app *app);

/* Draws the screen on top, filled from the ledger where it is stale. */
void app_draw(struct app *app, struct grid *grid);

/* Is there room for the screen on top? Else it is not drawn. */
bool app_fits(const struct app *app, const struct grid *grid);

/* Gives the screen on top a key; KEY_NONE = its wait is over. */
void app_key(struct app *app, struct key key);

/* How long the screen on top waits for a key. */
int app_wait_ms(const struct app *app);

/* One sentence for the screen on top, until the next key. */
void app_say(struct app *app, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* The same for a failure, with a signal; what was typed after the key that failed is thrown away.
 * Where nobody knows whether it was recorded (ERR_UNCERTAIN), that is found out and said before
 * another key is taken. Returns false. */
bool app_fail(struct app *app, const struct err *err);
bool app_refuse(struct app *app, enum err_code code, const char *sentence);

/* The signal alone. */
void app_ring(struct app *app);

/* What is on the screen now must have been seen before the next key counts: whatever had been typed
 * when it was painted is thrown away, and so is what follows in one run with that. Else keys that
 * were typed ahead would be taken for something else than they were meant for: scores after one
 * that was refused, for the aspects before theirs. */
void app_hold_keys(struct app *app);

/* The screen is painted as it was drawn last, and no key waits that came before. */
void app_shown(struct app *app);

/* The day it is now, where the program runs. */
void app_today(const struct app *app, char ret_day[11]);

/* The frame of the screen on top, with its keys and what was said last. */
struct body app_frame(const struct app *app, struct grid *grid, const char *title,
                      const char *beside);

/* Carries out what the table says of a key; where it says nothing, that is said. */
void app_dispatch(struct app *app, void *state, const struct key_table *table, struct key key);

/* The closing keys, for every table of a screen: all keys on a page, and the way back. */
void app_help(struct app *app, void *state, int number);
void app_leave(struct app *app, void *state, int number);
#define HELP_KEYS                                                                                  \
    {                                                                                              \
        "? . F1", "help", "all keys", .handler = app_help                                          \
    }
#define LEAVE_KEYS(its_label, its_help)                                                            \
    {                                                                                              \
        "q 0 Esc", its_label, its_help, .handler = app_leave                                       \
    }

/* The help page of a table. */
void app_push_help(struct app *app, const struct key_table *table);

/* What a form is for. */
struct form_task {
    /* Every line is right: carries it out and leaves the form with app_pop. False: the sentence
     * comes under the line `ret_field`, or at the foot where that stays -1, and the form stays. */
    bool (*accept)(struct app *app, struct form *form, void *context, int *ret_field,
                   struct err *err);
    /* Checks a line that is right by itself beside the others (more hatched than eggs), when it is
     * left and when the form is accepted; an empty one too. May be NULL. */
    bool (*check)(struct app *app, const struct form *form, void *context, int field,
                  struct err *err);
    /* After every key, where a choice changes what other lines offer; may be NULL. */
    void (*adjust)(struct app *app, struct form *form, void *context);
    void (*done)(void *context); /* frees the context; may be NULL */
};

/* Puts a form on top. `form` is copied; `context` is given to the task's functions. */
void app_push_form(struct app *app, const struct form *form, const struct form_task *task,
                   void *context);

/* The form on top; NULL where no form is. */
struct form *app_form(struct app *app);

/* Carries the form on top out, as if the user had accepted it: after a form over it has filled in
 * what it was waiting for. */
void app_accept_form(struct app *app);

/* Checks of a form's lines: a code; several, separated by ';'. */
bool check_code(const char *value, struct err *err);
bool check_codes(const char *value, struct err *err);

#endif
