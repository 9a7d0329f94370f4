/* The screens by name: their openers and their tables of keys. An opener puts its screen on top;
 * where it cannot, the reason is said on the screen that was there. */
#ifndef SENBETSU_SCREENS_SCREENS_H
#define SENBETSU_SCREENS_SCREENS_H

#include "senbetsu/core/column.h"
#include "senbetsu/print/page.h"
#include "senbetsu/report/lots.h"
#include "senbetsu/report/pairs.h"
#include "senbetsu/report/pass.h"
#include "senbetsu/report/rounds.h"
#include "senbetsu/screens/screen.h"
#include "senbetsu/store/fish.h"
#include "senbetsu/store/parents.h"
#include "senbetsu/store/retired.h"
#include "senbetsu/store/spawnings.h"

/* In the order in which README lists them; the tests hold README and what is shown against them. */
#define SCREEN_KEY_TABLES(TABLE)                                                                   \
    TABLE(sheet_keys)                                                                              \
    TABLE(sheet_pick_keys)                                                                         \
    TABLE(sheet_menu_keys)                                                                         \
    TABLE(sheet_choice_keys)                                                                       \
    TABLE(sheet_line_keys)                                                                         \
    TABLE(sheet_ask_keys)                                                                          \
    TABLE(tally_keys)                                                                              \
    TABLE(tally_further_keys)                                                                      \
    TABLE(tally_menu_keys)                                                                         \
    TABLE(tally_size_keys)                                                                         \
    TABLE(home_keys)                                                                               \
    TABLE(rates_keys)                                                                              \
    TABLE(pairs_keys)                                                                              \
    TABLE(pair_keys)                                                                               \
    TABLE(parents_keys)                                                                            \
    TABLE(parent_keys)                                                                             \
    TABLE(varieties_keys)                                                                          \
    TABLE(spawning_keys)                                                                           \
    TABLE(lots_keys)                                                                               \
    TABLE(round_keys)                                                                              \
    TABLE(record_keys)                                                                             \
    TABLE(records_keys)                                                                            \
    TABLE(stations_keys)                                                                           \
    TABLE(join_keys)                                                                               \
    TABLE(first_look_keys)                                                                         \
    TABLE(first_look_more_keys)                                                                    \
    TABLE(pass_keys)                                                                               \
    TABLE(closer_look_keys)                                                                        \
    TABLE(basin_look_keys)                                                                         \
    TABLE(pages_keys)                                                                              \
    TABLE(calendar_keys)                                                                           \
    TABLE(form_keys)
#define DECLARE_KEY_TABLE(name) extern const struct key_table name;
SCREEN_KEY_TABLES(DECLARE_KEY_TABLE)

void app_open_home(struct app *app);
/* What the ledger's notices say, on top of whatever screen it begins with; nothing where there are
 * none. */
void app_open_notices(struct app *app);
void app_open_spawning(struct app *app, const char *code);
/* A round's bowls, or its tally where its fish are picked or removed instead of judged. */
void app_open_round(struct app *app, int64_t round_id);

/* A round as lists name it: "harvest", or "harvest B" for another lot than the spawning's own. */
enum { ROUND_TEXT_SIZE = 512 };
const char *round_name(const struct round *round, char ret_text[ROUND_TEXT_SIZE]);

/* "3 bowls, 2026-11-05, 20 places, by kikusui-harvest, rejects pond-grade"; "tallied" instead of
 * bowls, or "stated" where both numbers were said. */
const char *round_about(const struct round_summary *summary, char ret_text[ROUND_TEXT_SIZE]);

/* A record: what can be put right of it, what was changed of it, and the way to retire it or bring
 * it back. Shared by the screens that show records: */
void app_open_record(struct app *app, enum record_kind kind, int64_t id);
#define RECORD_KEYS(its_help)                                                                      \
    {                                                                                              \
        "e", NULL, its_help, .handler = open_record                                                \
    }

/* The judges, and all that is retired. */
void app_open_records(struct app *app);

/* The stations, and what two of them changed differently; the form that asks for another station's
 * ledger, which is shown before it is joined. */
void app_open_stations(struct app *app);
void app_ask_join(struct app *app);

/* The lots of a spawning, those mixed from its fish among them. */
void app_open_lots(struct app *app, const char *spawning);
/* The rounds of one lot. */
void app_open_lot(struct app *app, int64_t lot_id);

/* The sheet of a bowl, at a certain fish and aspect where `at` is not NULL. */
void app_open_sheet(struct app *app, int64_t bowl_id, const struct place *at);
/* The sheet of a round's held fish. */
void app_open_second_look(struct app *app, int64_t round_id, const struct place *at);

/* The tally of a pick or remove round; `scoops`: scoops are counted. */
void app_open_tally(struct app *app, int64_t round_id, bool scoops);

/* The first look at the lot of a round. */
void app_open_first_look(struct app *app, int64_t round_id);

/* All screens on the way to a place, the sheet on top. */
void app_open_place(struct app *app, const struct place *place);

/* The sheet of the round's next bowl, holding `expected` fish (0 = not known). */
void app_open_next_bowl(struct app *app, int64_t round_id, int expected);

void app_open_pass(struct app *app, int64_t round_id);
/* The closer look at the tie of a pass that is tried; and, where a session was broken off in one,
 * at that of the round as it is set, with the pass below it. */
void app_open_closer_look(struct app *app, const struct pass_run *tried);
void app_resume_closer_look(struct app *app, int64_t round_id);
void app_open_list(struct app *app, int64_t round_id);

/* A season's spawnings from the eggs to the fish kept. */
void app_open_rates(struct app *app, int season);

/* Pairs over the seasons, and what to expect of them. */
void app_open_pairs(struct app *app);

/* The parents, and one of them with its pedigree. */
void app_open_parents(struct app *app);
void app_open_parent(struct app *app, const char *code);

/* The list of varieties. */
void app_open_varieties(struct app *app);

/* The spawnings of one of these pairs, which must outlive the screen. */
void app_open_pair(struct app *app, const struct pairs_table *made, const struct pair_row *row);

/* Pages that can be read on screen, saved and printed. */
struct pages_kind {
    const char *title; /* "The cull list" */
    const char *save;  /* over the form that asks where to: "Save the list" */
    const char *file;  /* how the suggested file name begins */
    bool (*make)(struct app *app, int64_t of, struct page_setup setup, struct text *out,
                 struct err *err);
    /* Of pages of a day or a season: "2026-11-05", which stands in the title and in the suggested
     * file name; else NULL. */
    void (*date)(int64_t of, char ret_date[11]);
    const struct key_table *keys; /* of such a screen, NULL = pages_keys */
};
void app_open_pages(struct app *app, const struct pages_kind *kind, int64_t of);

/* For the keys of such a screen: which pages it shows, and showing others there. */
const struct pages_kind *pages_shown(const void *state, int64_t *ret_of);
void pages_show(struct app *app, void *state, const struct pages_kind *kind, int64_t of);
extern const struct key_table pages_output_keys; /* save, print, plain ASCII */

/* The day's sheet of today; from there its cull list, what is due, the season book, and all these
 * of earlier and later. */
void app_open_calendar(struct app *app);

/* The lines of a form over a record: those of its columns that have a label. */
struct record_form {
    const struct column *columns[FORM_FIELDS];
    struct field_spec specs[FORM_FIELDS];
    int count;
};

/* Makes the form, with what the record says in its lines. `lines` must outlive it. */
void record_form_init(struct record_form *lines, const struct column *columns, int count,
                      const void *record, const char *title, struct form *form);

/* Suggests parents and varieties for the lines that want them. */
void record_form_suggest(struct app *app, const struct record_form *lines, struct form *form);

/* The line of a column that has one. */
int record_form_line(const struct record_form *lines, const struct column *column);

/* Takes what stands in the lines into the record: a line that is empty makes its member unknown. A
 * line without choices to choose from leaves it. */
void record_form_read(const struct record_form *lines, const struct form *form, void *ret_record);

/* Suggests words of the ledger for a line of a form: parents of the column's sex or varieties;
 * where lots are, or were last; the lots of these very spawnings. */
void app_suggest_for(struct app *app, struct form *form, int field, enum column_kind kind);
void app_suggest_ponds(struct app *app, struct form *form, int field);
void app_suggest_lots(struct app *app, struct form *form, int field, const char *spawnings);

/* Forms. A `spawning` of NULL adds one. */
void app_ask_judge(struct app *app);
void app_ask_spawning(struct app *app, const struct spawning *spawning);
void app_ask_parent(struct app *app, const char *code, enum sex sex); /* a new one */
void app_ask_parent_change(struct app *app, const struct parent *parent);
void app_ask_parent_state(struct app *app, const struct parent *parent);
void app_ask_new_round(struct app *app, const char *spawning);
void app_ask_new_round_of_lot(struct app *app, int64_t lot_id);
void app_ask_round(struct app *app, int64_t round_id);
void app_ask_fates(struct app *app, int64_t round_id);
void app_ask_bowl(struct app *app, int64_t round_id);
void app_ask_count(struct app *app, int64_t bowl_id);
/* What happened to a lot: fish were counted, found dead, lost or found; it is moved; some of its
 * fish go into another lot; all of them together with another lot's. */
void app_ask_lot_fish(struct app *app, const struct lot_line *lot, enum lot_event_kind kind);
void app_ask_lot_pond(struct app *app, const struct lot_line *lot);
void app_ask_lot_split(struct app *app, const struct lot_line *lot);
void app_ask_lot_merge(struct app *app, const struct lot_line *lot);
/* How many fish there are by samples; what it comes to can be stated of the round (0 = of none). */
void app_ask_samples(struct app *app, int64_t round_id);

/* A dam (at first `dam`), then one of the single sires that have a row with her. The row goes to
 * `*ret_row`, which must outlive the form. */
void app_ask_cross(struct app *app, const struct pairs_table *table, const char *dam,
                   const struct pair_row **ret_row);

/* Finds out about the judge: by name, or (NULL or "") whoever judged last. */
bool app_find_judge(struct app *app, const char *name, struct err *err);

#endif
