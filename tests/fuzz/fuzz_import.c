/* Files of every kind into a ledger: the first byte says which kind, the others are the file. A
 * file is refused with its place, or taken; then what is exported is imported again and changes
 * nothing. All of it in one transaction that is taken back. */
#include "fuzz.h"
#include "support/import_bench.h"

static const struct {
    import_function *import;
    bool (*export)(struct ledger *ledger, struct text *out, struct err *err);
} kinds[] = {
    {import_varieties, export_varieties},
    {import_parents, export_parents},
    {import_spawnings, export_spawnings},
    {import_rounds, export_rounds},
    {import_lots, export_lots},
    {import_fish, NULL},
    {import_standard, NULL},
};
enum { KINDS = sizeof kinds / sizeof *kinds };

static struct small_ledger small;

int LLVMFuzzerInitialize(int *count, char ***words)
{
    static const char parents[] = "parent,sex\nK9,f\nP1,m\n";
    (void)count;
    (void)words;
    snprintf(small.path, sizeof small.path, "%s/ledger.db", fuzz_folder());
    small.now = 1784376000000; /* 2026-07-18 12:00 UTC */
    small.ledger = small_ledger_open(&small);
    small_ledger_fill(&small);
    take_text(&small, import_parents, parents, 2, 0, 0);
    return 0;
}

static bool read_file(import_function *function, struct text *bytes, struct import *ret,
                      struct err *err)
{
    *ret =
        (struct import){.ledger = small.ledger, .file = "f", .bytes = bytes, .judge = small.judge};
    return function(ret, err);
}

static void hold_nothing_new(int kind)
{
    struct export_filter all = {.stage = -1};
    struct text out;
    struct import again;
    struct err err = {0};
    bool fish = kinds[kind].import == import_fish;
    text_init(&out);
    FUZZ_HOLDS(fish ? export_fish(small.ledger, &all, &out, &err)
                    : kinds[kind].export(small.ledger, &out, &err));
    FUZZ_HOLDS(read_file(kinds[kind].import, &out, &again, &err));
    FUZZ_HOLDS(again.added == 0 && again.changed == 0);
    text_done(&out);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
    struct fuzz_bytes rest = {bytes, length};
    int kind = (int)(fuzz_take(&rest) % KINDS);
    struct text file;
    struct import import;
    struct err err = {0};
    text_init(&file);
    text_add_bytes(&file, (const char *)rest.at, rest.left);
    FUZZ_HOLDS(transaction_begin(small.ledger, &err));
    if (!read_file(kinds[kind].import, &file, &import, &err)) {
        fuzz_sentence(&err);
        FUZZ_HOLDS(err.code == ERR_INPUT || err.code == ERR_ABSENT);
        FUZZ_HOLDS(strncmp(err.text, "f", 1) == 0);
    } else if (kinds[kind].import != import_standard) {
        hold_nothing_new(kind);
    }
    transaction_rollback(small.ledger);
    text_done(&file);
    return 0;
}
