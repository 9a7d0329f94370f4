#include "subject.h"

#include "senbetsu/store/parents.h"
#include "senbetsu/store/varieties.h"
#include "support/standard.h"
#include "vfs.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { STEP_MS = 1000, LATER_MOST = 2, STEPS_MOST = 64 };
static const int64_t morning = INT64_C(1785052800000); /* 2026-07-26 08:00 UTC */

static const struct standard standard = {
    STANDARD("kikusui-first", "Kikusui", STAGE_FIRST, 6500, 5500),
    ASPECTS(2, FLOORED_ASPECT("white", "White ground", 4, 2, VERDICT_REJECT),
            ASPECT("body", "Body", 2)),
    FAULTS(2, FAULT("spine", "Bent spine", EFFECT_REJECT),
           DEDUCTION("eye", "Colour over the eye", 1000)),
};

static struct image grounds[GROUND_COUNT];

const struct image *ground_image(enum ground ground)
{
    return &grounds[ground];
}

/* Folders. */

void folder_clear(const char *folder)
{
    char path[2 * DISK_PATH];
    DIR *open = opendir(folder);
    if (open == NULL)
        return;
    for (struct dirent *entry; (entry = readdir(open)) != NULL;) {
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0)
            continue;
        snprintf(path, sizeof path, "%s/%s", folder, entry->d_name);
        if (unlink(path) != 0)
            folder_clear(path);
    }
    closedir(open);
    rmdir(folder);
}

void folder_make(const char *folder)
{
    char stick[2 * DISK_PATH];
    folder_clear(folder);
    snprintf(stick, sizeof stick, "%s/stick", folder);
    if (mkdir(folder, 0700) != 0 || mkdir(stick, 0700) != 0)
        abort();
}

/* The ledger. */

void subject_set_clock(struct subject *subject, int step)
{
    subject->now = morning + INT64_C(1) * DAY_MS + (int64_t)step * STEP_MS;
}

static struct ledger_setup setup_of(struct subject *subject)
{
    struct ledger_setup setup = {.path = subject->path,
                                 .create = true,
                                 .clock = clock_fixed(&subject->now),
                                 .station = "pond house"};
    memset(setup.seed, 5, sizeof setup.seed);
    return setup;
}

static bool open_later(const struct ledger_setup *setup, int later_steps, struct ledger **ret,
                       struct err *err)
{
    static const char *const later_sql[LATER_MOST] = {
        "ALTER TABLE judge ADD COLUMN town TEXT;\n",
        "CREATE TABLE pond (id INTEGER PRIMARY KEY, name TEXT) STRICT;\n"
        "INSERT INTO pond (id, name) SELECT id, name FROM judge;\n"};
    struct migration steps[STEPS_MOST];
    bool is_new;
    memcpy(steps, migrations, (size_t)migration_count * sizeof *steps);
    for (int i = 0; i < later_steps; i++)
        steps[migration_count + i] = (struct migration){
            migration_count + i + 1, "9999_later", later_sql[i],
            "0000000000000000000000000000000000000000000000000000000000000000", NULL};
    return ledger_open_at(setup, steps, migration_count + later_steps, ret, &is_new, err);
}

bool subject_open(struct subject *subject, int later_steps, struct err *err)
{
    struct ledger_setup setup = setup_of(subject);
    bool is_new;
    return later_steps > 0 ? open_later(&setup, later_steps, &subject->ledger, err)
                           : ledger_open(&setup, &subject->ledger, &is_new, err);
}

bool subject_find_records(struct subject *subject, struct err *err)
{
    struct bowl *bowls;
    size_t count;
    if (!round_find(subject->ledger, "K1", "", STAGE_FIRST, &subject->judged, err) ||
        !round_find(subject->ledger, "K1", "", STAGE_SECOND, &subject->tallied, err) ||
        !standard_named(subject->ledger, standard.name, &subject->standard, err) ||
        !judge_named(subject->ledger, "Ines", &subject->judge, err) ||
        !bowl_list(subject->ledger, subject->judged.id, &bowls, &count, err))
        return false;
    if (count > 0)
        subject->bowl = bowls[0];
    free(bowls);
    return true;
}

/* The grounds. */

static void must(bool done, const struct err *err)
{
    if (done)
        return;
    fprintf(stderr, "The farm cannot be made: %s\n", err->text);
    abort();
}

static void stock(struct subject *subject)
{
    static const struct parent parents[] = {
        {.code = "D1", .sex = SEX_FEMALE}, {.code = "S1", .sex = SEX_MALE}, {.code = "S2"}};
    const struct spawning spawning = {.code = "K1",
                                      .season = 2026,
                                      .date = "2026-06-01",
                                      .variety = "Kikusui",
                                      .dam = "D1",
                                      .sires = "S1",
                                      .siring = SIRING_SINGLE,
                                      .eggs = NOT_COUNTED,
                                      .hatched = NOT_COUNTED};
    struct ledger *ledger = subject->ledger;
    struct standard_version version;
    enum saved saved;
    bool is_new;
    struct err err;
    for (size_t i = 0; i < sizeof parents / sizeof *parents; i++)
        must(parent_save(ledger, &parents[i], 0, "", &saved, &err), &err);
    must(spawning_save(ledger, &spawning, 0, "", &saved, &err), &err);
    must(standard_save(ledger, &standard, ORIGIN_IMPORTED, &version, &saved, &err), &err);
    must(round_begin(ledger, "K1", "", STAGE_FIRST, &subject->judged, &err), &err);
    must(round_begin_as(ledger, "K1", "", STAGE_SECOND, MANNER_PICK, &subject->tallied, &is_new,
                        &err),
         &err);
    must(bowl_begin(ledger, subject->judged.id, 1, 9, "2026-07-26", &subject->bowl, &err), &err);
    must(subject_find_records(subject, &err), &err);
}

/* A few fish, judged at the sheet's port. */
static void judge_fish(struct subject *subject, int from, int to)
{
    struct err err;
    for (int number = from; number <= to; number++) {
        struct stroke stroke = {.judge = subject->judge,
                                .look = 1,
                                .at_ms = subject->now,
                                .standard = subject->standard.id,
                                .entry_count = 3,
                                .entries = {{ENTRY_SCORE, "white", 2 + number % 4, ""},
                                            {ENTRY_SCORE, "body", 4, ""},
                                            {ENTRY_CLOSE, "", VERDICT_KEEP, ""}}};
        struct fish fish;
        must(fish_begin(subject->ledger, subject->bowl.id, number, &stroke.fish, &err), &err);
        must(fish_load(subject->ledger, stroke.fish, &standard, &fish, &err), &err);
        for (int i = 0; i < stroke.entry_count; i++)
            fish_apply(&fish, &standard, 1, subject->now, &stroke.entries[i]);
        struct cached_verdict cached = fish_cached_verdict(&fish, &standard);
        must(stroke_record(subject->ledger, &stroke, &cached, NULL, &err), &err);
        subject->now += STEP_MS;
    }
}

/* Every run begins a station of its own, wherever its file comes to lie: so all give the same ids.
 */
static void forget_place(const struct subject *subject)
{
    sqlite3 *db;
    if (sqlite3_open(subject->path, &db) != SQLITE_OK ||
        sqlite3_exec(db, "UPDATE station SET host = '', device = 0, inode = 0", NULL, NULL, NULL) !=
            SQLITE_OK)
        abort();
    sqlite3_close(db);
}

static void begin_ground(struct subject *subject, const char *folder)
{
    *subject = (struct subject){.now = morning};
    snprintf(subject->folder, sizeof subject->folder, "%s", folder);
    snprintf(subject->path, sizeof subject->path, "%s/ledger.db", folder);
    snprintf(subject->copy, sizeof subject->copy, "%s/stick/copy.db", folder);
    folder_make(folder);
}

static void make_closed(struct subject *subject, const char *folder, struct image *ret)
{
    struct err err;
    begin_ground(subject, folder);
    must(subject_open(subject, 0, &err), &err);
    stock(subject);
    judge_fish(subject, 1, 4);
    ledger_close(subject->ledger);
    forget_place(subject);
    image_read(ret, folder);
}

void grounds_make(const char *base)
{
    struct subject subject;
    struct err err;
    char folder[64];
    snprintf(folder, sizeof folder, "%.50s/ground", base);
    begin_ground(&subject, folder);
    image_read(&grounds[GROUND_NONE], folder);
    vfs_share_memory(false);
    make_closed(&subject, folder, &grounds[GROUND_OLDER]);
    vfs_share_memory(true);
    make_closed(&subject, folder, &grounds[GROUND_CLEAN]);

    must(subject_open(&subject, 0, &err), &err);
    must(subject_find_records(&subject, &err), &err);
    judge_fish(&subject, 5, 6);
    image_read(&grounds[GROUND_HOT], folder);
    ledger_close(subject.ledger);
    folder_clear(folder);
}

void grounds_done(void)
{
    for (int ground = 0; ground < GROUND_COUNT; ground++)
        image_done(&grounds[ground]);
}

void subject_begin(struct subject *subject, const char *folder, enum ground ground)
{
    begin_ground(subject, folder);
    subject_set_clock(subject, 0);
    image_write(&grounds[ground], folder);
    vfs_share_memory(ground != GROUND_OLDER);
}

void subject_end(struct subject *subject)
{
    if (subject->has_sheet) {
        sheet_done(&subject->sheet);
        ledger_port_done(&subject->port);
    }
    if (subject->has_tally)
        tally_sheet_done(&subject->tally);
    subject->has_sheet = subject->has_tally = false;
    ledger_close(subject->ledger);
    subject->ledger = NULL;
}
