/* A ledger that the targets begin from: made once, kept as bytes, and laid down anew for each
 * input. Header only, for what each target links differs. */
#ifndef SENBETSU_TESTS_FUZZ_BASE_LEDGER_H
#define SENBETSU_TESTS_FUZZ_BASE_LEDGER_H

#include "fuzz.h"
#include "support/import_bench.h"

static const char base_parents[] = "parent,sex,variety,born,dam,sire,note,state,since\n"
                                   "K9,f,Plain,2021,,,calm,resting,2026-03-01\n"
                                   "P1,m,Plain,2015,,,,,\n";
static const char base_spawnings[] = "spawning,season,date,dam,sires,eggs,hatched,note\n"
                                     "K2,2025,2025-06-02,K9,P1,220000,150000,warm\n"
                                     "K3,2026,2026-06-01,K9,P1,20000,15000,\n";
static const char base_rounds[] =
    "spawning,lot,stage,date,manner,in,in_how,in_cv,kept,kept_how,kept_cv,rejected,dead,note\n"
    "K2,,first,2025-07-06,pick,98000,weighed,0.05,9400,counted,,88000,600,net mended\n"
    "K3,west,first,2026-07-12,pick,9100,scooped,0.04,2310,counted,,,,\n"
    "K3,west,second,2026-07-17,remove,2300,counted,,1200,counted,,,,\n";
static const char base_lots[] =
    "spawning,lot,date,event,number,how,cv,into_spawning,into_lot,pond,note\n"
    "K2,,2025-07-08,dead,60,,,,,,thunder\n"
    "K3,west,2026-07-13,move,,,,,,North,\n"
    "K3,west,2026-07-14,count,2300,counted,,,,,\n"
    "K3,west,2026-07-15,transfer,100,,,K3;K2,barn,,\n";
static const char base_fish[] =
    "spawning,lot,stage,bowl,fish,judge,date,length_mm,tag,faults,body,white\n"
    "K1,,first,1,1,Ines,2026-07-18,42,T1,,3,4\n"
    "K1,,first,1,1,Tomo,2026-07-18,,,,2,4\n"
    "K1,,first,1,2,Ines,2026-07-18,,,spine,,\n"
    "K1,,first,1,3,Ines,2026-07-18,,,eye,3,3\n"
    "K1,,first,2,1,Ines,2026-07-18,,,,5,5\n";

static struct small_ledger base;
static struct text base_bytes;

/* What lies beside a ledger that was left is removed as well. */
static void base_remove(void)
{
    static const char *const beside[] = {"", "-wal", "-shm", "-journal"};
    char path[128];
    for (size_t i = 0; i < sizeof beside / sizeof *beside; i++) {
        snprintf(path, sizeof path, "%s%s", base.path, beside[i]);
        unlink(path);
    }
}

static void base_make(void)
{
    snprintf(base.path, sizeof base.path, "%s/ledger.db", fuzz_folder());
    base.now = 1784376000000; /* 2026-07-18 12:00 UTC */
    base.ledger = small_ledger_open(&base);
    small_ledger_fill(&base);
    take_text(&base, import_parents, base_parents, 2, 0, 0);
    take_text(&base, import_spawnings, base_spawnings, 2, 0, 0);
    take_text(&base, import_rounds, base_rounds, 3, 0, 0);
    take_text(&base, import_lots, base_lots, 4, 0, 0);
    take_text(&base, import_fish, base_fish, 5, 0, 0);
    ledger_close(base.ledger);
    base.ledger = NULL;
    FILE *file = fopen(base.path, "rb");
    FUZZ_HOLDS(file != NULL);
    char block[4096];
    text_init(&base_bytes);
    for (size_t got; (got = fread(block, 1, sizeof block, file)) > 0;)
        text_add_bytes(&base_bytes, block, got);
    fclose(file);
    base_remove();
}

#endif
