/* Files are written as a breeder's would be and imported by the program itself, so that a ledger
 * here is one that the program made. */
#include "farm.h"
#include "senbetsu/base/text.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

enum { PAIRS = 100, CULLS = 5, LAST_SEASON = 2025 };

static const char *const aspects[] = {"ground", "pattern", "edges", "eyes", "nose", "tail",
                                      "fins",   "lustre",  "body",  "size", "skin"};
enum { ASPECTS = sizeof aspects / sizeof *aspects };
static const int weights[ASPECTS] = {10, 10, 10, 5, 5, 10, 10, 10, 10, 10, 10};

const char farm_rank_sql[] =
    "SELECT bowl, fish, points, rank() OVER (ORDER BY points DESC) FROM (SELECT bowl, fish,"
    " 10*ground + 10*pattern + 10*edges + 5*eyes + 5*nose + 10*tail + 10*fins + 10*lustre"
    " + 10*body + 10*size + 10*skin AS points FROM fish WHERE spawning = 'B1')";

static unsigned draw(unsigned *random, unsigned below)
{
    *random = *random * 1103515245u + 12345u;
    return (*random >> 8) % below;
}

static bool is_there(const char *path)
{
    return access(path, F_OK) == 0;
}

static void save(const char *path, struct text *text)
{
    write_file(path, text->data);
    text_done(text);
}

static void import(const struct bench *bench, const char *ledger, const char *kind,
                   const char *path)
{
    bench_run(bench, ledger, (const char *[]){"import", kind, path, NULL});
}

/* Fish. */

static void write_standard(const char *path)
{
    struct text text;
    text_init(&text);
    text_add(&text, "[standard]\nname = bench\nvariety = Kohaku\nstage = harvest\nscale = 1-5\n"
                    "typical = 3\nkeep_at = 60\nhold_at = 50\n");
    for (int i = 0; i < ASPECTS; i++)
        text_addf(&text, "[aspect %s]\nlabel = %s\nweight = %d\n", aspects[i], aspects[i],
                  weights[i]);
    text_add(&text, "[fault spine]\nlabel = spine\neffect = reject\nkey = s\n"
                    "[fault window]\nlabel = window\neffect = deduct 5\nkey = w\n");
    save(path, &text);
}

static void write_fish(const struct fish_farm *farm)
{
    struct text text;
    text_init(&text);
    text_add(&text, "spawning,stage,bowl,fish,faults");
    for (int i = 0; i < ASPECTS; i++)
        text_addf(&text, ",%s", aspects[i]);
    text_add(&text, "\n");
    unsigned random = 1;
    for (int64_t i = 0; i < farm->fish; i++) {
        int64_t nth = i % farm->per_round;
        text_addf(&text, "B%d,harvest,%d,%d,%s", (int)(i / farm->per_round + 1),
                  (int)(nth / FISH_PER_BOWL + 1), (int)(nth % FISH_PER_BOWL + 1),
                  draw(&random, 11) == 0 ? "window" : "");
        for (int k = 0; k < ASPECTS; k++)
            text_addf(&text, ",%u", draw(&random, 5) + 1);
        text_add(&text, "\n");
    }
    save(farm->csv, &text);
}

static void write_spawnings_of_fish(const char *path, const struct fish_farm *farm)
{
    struct text text;
    text_init(&text);
    text_add(&text, "spawning,season,variety\n");
    for (int64_t i = 0; i * farm->per_round < farm->fish; i++)
        text_addf(&text, "B%d,%d,Kohaku\n", (int)i + 1, LAST_SEASON);
    save(path, &text);
}

static struct fish_farm name_farm(const struct bench *bench, const char *kind, int64_t fish,
                                  int64_t per_round)
{
    struct fish_farm farm = {.fish = fish, .per_round = per_round};
    char name[64];
    snprintf(name, sizeof name, "%s-%d-%d.db", kind, (int)fish, (int)per_round);
    bench_path(bench, name, farm.ledger);
    snprintf(name, sizeof name, "fish-%d-%d.csv", (int)fish, (int)per_round);
    bench_path(bench, name, farm.csv);
    if (!is_there(farm.csv))
        write_fish(&farm);
    return farm;
}

static void found(const struct bench *bench, const struct fish_farm *farm)
{
    char path[4096];
    write_standard(bench_path(bench, "bench.ini", path));
    import(bench, farm->ledger, "standard", path);
    write_spawnings_of_fish(bench_path(bench, "spawnings.csv", path), farm);
    import(bench, farm->ledger, "spawnings", path);
}

struct fish_farm farm_to_be(const struct bench *bench, int64_t fish, int64_t per_round)
{
    struct fish_farm farm = name_farm(bench, "new", fish, per_round);
    static const char *const others[] = {"", "-wal", "-shm", "-acknowledged"};
    for (size_t i = 0; i < sizeof others / sizeof *others; i++) {
        char path[4200];
        snprintf(path, sizeof path, "%s%s", farm.ledger, others[i]);
        unlink(path);
    }
    found(bench, &farm);
    return farm;
}

struct fish_farm farm_of_fish(const struct bench *bench, int64_t fish, int64_t per_round)
{
    struct fish_farm farm = name_farm(bench, "fish", fish, per_round);
    if (!is_there(farm.ledger)) {
        found(bench, &farm);
        import(bench, farm.ledger, "fish", farm.csv);
    }
    return farm;
}

struct fish_farm farm_of_tally(const struct bench *bench)
{
    char path[4096];
    struct fish_farm farm = name_farm(bench, "tally", 1, 1);
    if (is_there(farm.ledger))
        return farm;
    found(bench, &farm);
    write_file(bench_path(bench, "tally.csv", path),
               "spawning,stage,manner,in\nB1,second,pick,1000000\n");
    import(bench, farm.ledger, "rounds", path);
    return farm;
}

const char *farm_bare_rows(const struct bench *bench, const struct fish_farm *farm, char ret[4096])
{
    char name[64], load[4200];
    snprintf(name, sizeof name, "bare-%d-%d.db", (int)farm->fish, (int)farm->per_round);
    bench_path(bench, name, ret);
    if (is_there(ret))
        return ret;
    struct text table;
    text_init(&table);
    text_add(&table, "CREATE TABLE fish (spawning TEXT, stage TEXT, bowl INTEGER, fish INTEGER, "
                     "faults TEXT");
    for (int i = 0; i < ASPECTS; i++)
        text_addf(&table, ", %s INTEGER", aspects[i]);
    text_add(&table, ")");
    snprintf(load, sizeof load, ".import --csv --skip 1 %s fish", farm->csv);
    cost_of((const char *[]){"sqlite3", ret, table.data, load, NULL});
    text_done(&table);
    return ret;
}

/* Seasons. */

static void write_parents(const char *path)
{
    struct text text;
    text_init(&text);
    text_add(&text, "parent,sex\n");
    for (int i = 0; i < PAIRS; i++)
        text_addf(&text, "D%d,f\nP%d,m\n", i, i);
    save(path, &text);
}

/* Every third pair has a group of two sires; pairs come back in other seasons. */
static void add_spawning(struct text *text, int season, int number, unsigned pair)
{
    text_addf(text, "R%d-%d,%d,Kikusui,D%u,P%u", season, number, season, pair, pair);
    if (pair % 3 == 0)
        text_addf(text, ";P%u,group\n", (pair + 1) % PAIRS);
    else
        text_add(text, ",single\n");
}

static void add_culls(struct text *text, int season, int number, unsigned *random)
{
    static const char *const stages[CULLS] = {"first", "second", "third", "fourth", "harvest"};
    unsigned in = 50000 + draw(random, 100000);
    for (int i = 0; i < CULLS; i++) {
        unsigned kept = in * (10 + draw(random, 40)) / 100;
        text_addf(text, "R%d-%d,,%s,%d-%02d-12,%s,%u,%s,%u,counted,,%u,10,\n", season, number,
                  stages[i], season, 6 + i, i < 2 ? "pick" : "remove", in,
                  i < 2 ? "weighed,0.05" : "counted,", kept, in - kept);
        in = kept;
    }
}

static void write_seasons(const char *spawnings_path, const char *rounds_path, int seasons,
                          int spawnings)
{
    unsigned random = 7;
    struct text spawned, culled;
    text_init(&spawned);
    text_init(&culled);
    text_add(&spawned, "spawning,season,variety,dam,sires,siring\n");
    text_add(&culled, "spawning,lot,stage,date,manner,in,in_how,in_cv,kept,kept_how,kept_cv,"
                      "rejected,dead,note\n");
    for (int season = LAST_SEASON + 1 - seasons; season <= LAST_SEASON; season++)
        for (int number = 1; number <= spawnings; number++) {
            add_spawning(&spawned, season, number, draw(&random, PAIRS));
            add_culls(&culled, season, number, &random);
        }
    save(spawnings_path, &spawned);
    save(rounds_path, &culled);
}

struct season_farm farm_of_seasons(const struct bench *bench, int seasons, int spawnings)
{
    struct season_farm farm;
    char name[64], parents[4096], spawned[4096];
    snprintf(name, sizeof name, "seasons-%d-%d.db", seasons, spawnings);
    bench_path(bench, name, farm.ledger);
    snprintf(name, sizeof name, "rounds-%d-%d.csv", seasons, spawnings);
    bench_path(bench, name, farm.rounds);
    if (is_there(farm.ledger))
        return farm;
    write_parents(bench_path(bench, "parents.csv", parents));
    write_seasons(bench_path(bench, "seasons.csv", spawned), farm.rounds, seasons, spawnings);
    import(bench, farm.ledger, "parents", parents);
    import(bench, farm.ledger, "spawnings", spawned);
    import(bench, farm.ledger, "rounds", farm.rounds);
    return farm;
}
