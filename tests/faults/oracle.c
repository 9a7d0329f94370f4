#include "oracle.h"

#include "senbetsu/store/judges.h"

#include <dirent.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Findings. */

enum { PRINTED_MOST = 400 };
static int found;

void finding(const struct finding_place *place, const char *format, ...)
{
    char sentence[1024];
    va_list list;
    va_start(list, format);
    vsnprintf(sentence, sizeof sentence, format, list);
    va_end(list);
    if (++found <= PRINTED_MOST)
        printf("%s, %s at %d%s, %s: %s\n", place->scenario->name, fault_name(place->fault.kind),
               place->fault.at, place->fault.lasting ? " and on" : "", place->when, sentence);
}

int findings(void)
{
    return found;
}

/* What a ledger says. A journal that is found is played back as the ledger is written: with the
 * checksums of its pages. */

static sqlite3 *look_into(const char *path)
{
    sqlite3 *db = NULL;
    if (sqlite3_open_v2(path, &db, SQLITE_OPEN_READWRITE, NULL) != SQLITE_OK) {
        sqlite3_close(db);
        return NULL;
    }
    /* Whoever opens it next is to find it as it lay. */
    sqlite3_db_config(db, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, NULL);
    return db;
}

static void mix(uint64_t *hash, const void *bytes, size_t size)
{
    const unsigned char *byte = bytes;
    for (size_t i = 0; i < size; i++)
        *hash = (*hash ^ byte[i]) * UINT64_C(1099511628211);
}

static bool mix_rows(sqlite3 *db, const char *sql, uint64_t *hash)
{
    sqlite3_stmt *statement;
    int code = sqlite3_prepare_v2(db, sql, -1, &statement, NULL);
    if (code != SQLITE_OK)
        return false;
    while ((code = sqlite3_step(statement)) == SQLITE_ROW)
        for (int i = 0; i < sqlite3_column_count(statement); i++) {
            const char type = (char)sqlite3_column_type(statement, i);
            mix(hash, &type, 1);
            const void *bytes = sqlite3_column_blob(statement, i);
            mix(hash, bytes, (size_t)sqlite3_column_bytes(statement, i));
        }
    sqlite3_finalize(statement);
    return code == SQLITE_DONE;
}

/* Which station a file is follows from where it lies. */
static const char tables[] =
    "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'"
    " AND name NOT IN ('station', 'ledger') ORDER BY name";

static bool mix_tables(sqlite3 *db, uint64_t *hash)
{
    sqlite3_stmt *names;
    bool read = sqlite3_prepare_v2(db, tables, -1, &names, NULL) == SQLITE_OK;
    int count = 0;
    while (read && sqlite3_step(names) == SQLITE_ROW) {
        char sql[128];
        const char *name = (const char *)sqlite3_column_text(names, 0);
        sqlite3_snprintf(sizeof sql, sql, "SELECT * FROM \"%w\"", name);
        mix(hash, name, strlen(name));
        read = mix_rows(db, sql, hash);
        count++;
    }
    sqlite3_finalize(names);
    if (count == 0)
        *hash = NO_LEDGER;
    return read;
}

static bool is_sound(sqlite3 *db)
{
    sqlite3_stmt *statement = NULL;
    bool sound =
        sqlite3_prepare_v2(db, "PRAGMA integrity_check(1)", -1, &statement, NULL) == SQLITE_OK &&
        sqlite3_step(statement) == SQLITE_ROW &&
        strcmp((const char *)sqlite3_column_text(statement, 0), "ok") == 0;
    sqlite3_finalize(statement);
    return sound;
}

/* What it says, and whether all of its pages are in order, which is asked where that matters. */
static uint64_t look_at(const char *path, bool *ret_sound)
{
    struct stat about;
    uint64_t hash = UINT64_C(14695981039346656037);
    if (stat(path, &about) != 0)
        return NO_LEDGER;
    sqlite3 *db = look_into(path);
    if (db == NULL)
        return UNREADABLE;
    bool read = sqlite3_exec(db, "BEGIN", NULL, NULL, NULL) == SQLITE_OK && mix_tables(db, &hash);
    if (ret_sound != NULL)
        *ret_sound = is_sound(db);
    sqlite3_exec(db, "COMMIT", NULL, NULL, NULL);
    sqlite3_close(db);
    return read ? hash : UNREADABLE;
}

uint64_t ledger_says(const char *path)
{
    return look_at(path, NULL);
}

/* Files. */

static int count_descriptors(void)
{
    int count = 0;
    DIR *open = opendir("/proc/self/fd");
    if (open == NULL)
        return 0;
    while (readdir(open) != NULL)
        count++;
    closedir(open);
    return count;
}

static void list(struct image *image, const char *folder, const char *below)
{
    char path[2 * DISK_PATH];
    snprintf(path, sizeof path, "%s/%s", folder, below);
    DIR *open = opendir(path);
    if (open == NULL)
        abort();
    for (struct dirent *entry; (entry = readdir(open)) != NULL;) {
        struct stat about;
        char name[DISK_PATH];
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0)
            continue;
        snprintf(name, sizeof name, "%.60s%.90s", below, entry->d_name);
        snprintf(path, sizeof path, "%s/%s", folder, name);
        if (stat(path, &about) == 0 && S_ISDIR(about.st_mode)) {
            strcat(name, "/");
            list(image, folder, name);
        } else if (image->count < IMAGE_FILES) {
            memcpy(image->files[image->count++].name, name, sizeof name);
        }
    }
    closedir(open);
}

void listing_take(struct listing *listing, const char *folder)
{
    listing->image.count = 0;
    list(&listing->image, folder, "");
    listing->descriptors = count_descriptors();
}

static bool ends_with(const char *name, const char *end)
{
    size_t length = strlen(name), size = strlen(end);
    return length >= size && strcmp(name + length - size, end) == 0;
}

static bool is_companion(const char *name)
{
    return ends_with(name, "-wal") || ends_with(name, "-shm") || ends_with(name, "-journal") ||
           ends_with(name, "-acknowledged");
}

/* A name that somebody would put back in the ledger's place. */
static bool is_final(const char *name)
{
    return !is_companion(name) && strstr(name, "unfinished") == NULL &&
           (strstr(name, ".before-") != NULL || strstr(name, ".copies/") != NULL ||
            strcmp(name, "stick/copy.db") == 0);
}

/* What belongs to the ledger itself, or lies beside another one while that is open. */
static bool is_own(const char *name)
{
    static const char *const ledgers[] = {"ledger.db", "stick/other.db"};
    for (size_t i = 0; i < sizeof ledgers / sizeof *ledgers; i++) {
        size_t length = strlen(ledgers[i]);
        if (strncmp(name, ledgers[i], length) == 0 && (name[length] == '\0' || is_companion(name)))
            return true;
    }
    return false;
}

static bool is_listed(const struct listing *listing, const char *name)
{
    for (int i = 0; i < listing->image.count; i++)
        if (strcmp(listing->image.files[i].name, name) == 0)
            return true;
    return false;
}

static bool is_of_witness(const struct finding_place *place, const struct witness *witness,
                          uint64_t says)
{
    for (int i = 0; i <= place->scenario->steps; i++)
        if (witness->after[i] == says)
            return true;
    return witness->copied == says;
}

static void check_final_names(const struct finding_place *place, const char *folder,
                              const struct witness *witness)
{
    struct listing now;
    listing_take(&now, folder);
    for (int i = 0; i < now.image.count; i++) {
        char path[2 * DISK_PATH];
        const char *name = now.image.files[i].name;
        if (!is_final(name))
            continue;
        snprintf(path, sizeof path, "%s/%s", folder, name);
        bool sound = false;
        uint64_t says = look_at(path, &sound);
        if (says == NO_LEDGER || says == UNREADABLE || !sound)
            finding(place, "%s is no whole copy", name);
        else if (!is_of_witness(place, witness, says))
            finding(place, "%s is a copy of what never was", name);
    }
}

/* The sentence says that what was refused may be done all the same. */
static bool leaves_it_open(const struct err *err)
{
    return strstr(err->text, "may be recorded or not") != NULL ||
           strstr(err->text, "opening the ledger again finishes it") != NULL;
}

static void check_nothing_left(const struct finding_place *place, const char *folder,
                               const struct listing *before, const struct err *err)
{
    struct listing now;
    /* What cannot be deleted stays. */
    if (place->fault.kind == FAULT_OS_EACCES || place->fault.kind == FAULT_OS_EIO)
        return;
    listing_take(&now, folder);
    for (int i = 0; i < now.image.count; i++) {
        const char *name = now.image.files[i].name;
        if (!is_listed(before, name) && !is_own(name) && !is_final(name) &&
            !(leaves_it_open(err) && strstr(name, ".restoring-") != NULL))
            finding(place, "%s is left behind", name);
    }
}

/* The open ledger. */

static void check_at_rest(const struct finding_place *place, const struct subject *subject)
{
    if (subject->ledger == NULL)
        return;
    sqlite3 *db = subject->ledger->db;
    if (subject->ledger->depth != 0 || !sqlite3_get_autocommit(db))
        finding(place, "a transaction is open");
    if (sqlite3_txn_state(db, NULL) != SQLITE_TXN_NONE)
        finding(place, "the ledger is being read or written");
    for (sqlite3_stmt *statement = NULL; (statement = sqlite3_next_stmt(db, statement)) != NULL;)
        if (sqlite3_stmt_busy(statement))
            finding(place, "a statement is busy: %s", sqlite3_sql(statement));
}

/* What is painted is what was stored. */
static void check_painted(const struct finding_place *place, struct subject *subject)
{
    if (!subject->has_sheet)
        return;
    for (size_t i = 0; i < subject->sheet.fish_count; i++) {
        const struct fish *painted = &subject->sheet.fish[i];
        struct fish stored;
        struct err err;
        if (painted->id == 0)
            continue;
        if (!fish_load(subject->ledger, painted->id, subject->port.standard, &stored, &err))
            finding(place, "fish %d is not in the ledger: %s", painted->number, err.text);
        else if (memcmp(stored.judgement.scores, painted->judgement.scores,
                        sizeof stored.judgement.scores) != 0 ||
                 stored.judgement.faults != painted->judgement.faults ||
                 stored.judgement.by_hand != painted->judgement.by_hand ||
                 stored.closed != painted->closed || strcmp(stored.tag, painted->tag) != 0 ||
                 stored.length_mm != painted->length_mm || strcmp(stored.note, painted->note) != 0)
            finding(place, "fish %d is painted otherwise than it is stored", painted->number);
    }
}

/* The sentence. */

/* Sheet and tally hand on the sentence alone: its words must do. A failed sync leaves open what
 * became of the change. */
static const struct {
    enum trouble trouble;
    enum err_code code;
    const char *words;
} troubles[] = {
    {TROUBLE_IO, ERR_IO, "The disk reports"},
    {TROUBLE_IO, ERR_IO, "Input/output error"},
    {TROUBLE_IO, ERR_UNCERTAIN, "The disk failed while saving"},
    {TROUBLE_FULL, ERR_FULL, "is full"},
    {TROUBLE_FULL, ERR_FULL, "No space left"},
    {TROUBLE_BUSY, ERR_BUSY, "Another program is using"},
    {TROUBLE_BUSY, ERR_BUSY, "is open in another window"},
    {TROUBLE_PLACE, ERR_SYSTEM, "cannot be opened"},
    {TROUBLE_PLACE, ERR_PERMISSION, "may not"},
    {TROUBLE_PLACE, ERR_PERMISSION, "Permission denied"},
    {TROUBLE_PLACE, ERR_SYSTEM, "Too many open files"},
};

static bool says_trouble(enum trouble trouble, const struct err *err, bool words_alone)
{
    if (trouble == TROUBLE_NONE)
        return true;
    for (size_t i = 0; i < sizeof troubles / sizeof *troubles; i++)
        if (troubles[i].trouble == trouble && strstr(err->text, troubles[i].words) != NULL &&
            (words_alone || err->code == troubles[i].code))
            return true;
    return false;
}

static bool is_of_ledger(const struct subject *subject, const char *path)
{
    size_t length = strlen(subject->path);
    return strncmp(path, subject->path, length) == 0 &&
           (path[length] == '\0' || is_companion(path));
}

/* Does the sentence name the file, or what it is to become? A copy of another station's ledger is
 * called as that one is. */
static bool names_file(const struct subject *subject, const char *path, const struct err *err)
{
    if (strstr(path, "/stick/") != NULL)
        return strstr(err->text, "/stick/") != NULL;
    if (strstr(path, ".joining.") != NULL && strstr(err->text, "/stick/") != NULL)
        return true;
    return !is_of_ledger(subject, path) || strstr(err->text, subject->path) != NULL;
}

static void check_sentence(const struct finding_place *place, const struct subject *subject,
                           const struct err *err)
{
    const char *first = fault_path(0);
    bool named = first == NULL;
    for (int i = 0; fault_path(i) != NULL; i++)
        /* Nobody else knows the name of an unfinished file, so nobody keeps us waiting there. */
        named = named || names_file(subject, fault_path(i), err) ||
                (place->fault.kind == FAULT_BUSY && strstr(fault_path(i), ".unfinished-") != NULL);
    if (err->text[0] == '\0' || err->code == ERR_NONE)
        finding(place, "nothing is said");
    else if (!says_trouble(fault_trouble(place->fault.kind), err,
                           subject->has_sheet || subject->has_tally))
        finding(place, "the trouble is not named (%s, class %d): %s", first, (int)err->code,
                err->text);
    else if (!named)
        finding(place, "the file is not named (%s): %s", first, err->text);
}

bool oracle_refused(const struct finding_place *place, struct subject *subject,
                    const struct witness *witness, int said, const struct listing *before,
                    const struct err *err)
{
    uint64_t says = ledger_says(subject->path);
    bool done = says == witness->after[said + 1] && says != witness->after[said];
    if (done && !leaves_it_open(err) && !place->scenario->in_parts)
        finding(place, "what was refused is in the ledger: %s", err->text);
    else if (!done && says != witness->after[said])
        finding(place, "the ledger says something else (%s): %s",
                says == UNREADABLE  ? "it cannot be read"
                : says == NO_LEDGER ? "there is none"
                                    : "other records",
                err->text);
    check_at_rest(place, subject);
    check_sentence(place, subject, err);
    check_nothing_left(place, subject->folder, before, err);
    check_final_names(place, subject->folder, witness);
    if (!done)
        check_painted(place, subject);
    return done;
}

void oracle_ended(const struct finding_place *place, struct subject *subject,
                  const struct witness *witness, const struct listing *before)
{
    struct listing now;
    bool sound = false;
    uint64_t says = look_at(subject->path, &sound);
    if (says != witness->after[place->scenario->steps])
        finding(place, "in the end the ledger says something else");
    if (!sound)
        finding(place, "in the end the ledger is damaged");
    listing_take(&now, subject->folder);
    if (now.descriptors != before->descriptors)
        finding(place, "%d files are open, %d were", now.descriptors, before->descriptors);
    check_final_names(place, subject->folder, witness);
}

/* The next program begins, works and ends. */
static void check_next_start(const struct finding_place *place, struct subject *subject)
{
    int64_t judge;
    struct err err;
    if (!subject_open(subject, place->scenario->later_steps, &err))
        finding(place, "the ledger does not open any more: %s", err.text);
    else if (!judge_named(subject->ledger, "Next", &judge, &err))
        finding(place, "the next write is refused: %s", err.text);
    else if (!is_sound(subject->ledger->db))
        finding(place, "the ledger is damaged");
    subject_end(subject);
}

void oracle_after_death(const struct finding_place *place, const char *folder,
                        const struct witness *witness, int least, int most)
{
    struct subject subject = {.now = 0};
    struct stat about;
    snprintf(subject.folder, sizeof subject.folder, "%s", folder);
    snprintf(subject.path, sizeof subject.path, "%s/ledger.db", folder);
    snprintf(subject.copy, sizeof subject.copy, "%s/stick/copy.db", folder);
    subject_set_clock(&subject, STEPS_AT_MOST);
    if (place->scenario->ground != GROUND_NONE &&
        (stat(subject.path, &about) != 0 || about.st_size == 0))
        finding(place, "there is no ledger any more");
    uint64_t says = ledger_says(subject.path);
    if (says == UNREADABLE)
        finding(place, "the ledger cannot be read");
    else if (says != witness->after[least] && says != witness->after[most])
        finding(place, "the ledger should be as after step %d or %d", least, most);
    check_final_names(place, folder, witness);
    check_next_start(place, &subject);
}
