#include "run.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

static struct {
    char folder[64], cut_folder[64];
    int told; /* where a child that will be killed says what is done, a byte a step; else -1 */
} ground;

/* A scenario up to its first step. */
struct run {
    const struct scenario *scenario;
    struct subject subject;
    struct witness *witness;
    struct listing before; /* nothing is open */
    struct finding_place place;
    size_t from; /* where in the log the first step began */
    int said;
    struct err err;
};

static void fail_to_prepare(const struct run *run)
{
    fprintf(stderr, "%s cannot be prepared: %s\n", run->scenario->name, run->err.text);
    abort();
}

static void begin(struct run *run, const struct scenario *scenario, struct strike fault,
                  struct witness *witness)
{
    struct subject *subject = &run->subject;
    *run = (struct run){.scenario = scenario, .witness = witness};
    run->place = (struct finding_place){scenario, fault, "refused"};
    subject_begin(subject, ground.folder, scenario->ground);
    disk_watch(ground_image(scenario->ground), ground.folder);
    listing_take(&run->before, ground.folder);
    if (!scenario->closed || scenario->prepare != NULL) {
        if (!subject_open(subject, 0, &run->err) || !subject_find_records(subject, &run->err) ||
            (scenario->prepare != NULL && !scenario->prepare(subject, &run->err)))
            fail_to_prepare(run);
    }
    if (scenario->closed)
        subject_end(subject);
    int descriptors = run->before.descriptors;
    listing_take(&run->before, ground.folder);
    run->before.descriptors = descriptors;
    disk_settle();
    run->from = disk_events();
}

static bool take_step(struct run *run)
{
    run->err = (struct err){.code = ERR_NONE};
    subject_set_clock(&run->subject, run->said);
    if (!run->scenario->step(&run->subject, run->said, &run->err)) {
        run->subject.refusals++;
        return false;
    }
    run->said++;
    disk_said();
    if (ground.told >= 0 && write(ground.told, ".", 1) != 1)
        _exit(1);
    return true;
}

static void end(struct run *run)
{
    fault_disarm();
    subject_end(&run->subject);
}

/* Without faults. */
static void witness_run(const struct scenario *scenario, struct witness *ret,
                        int ret_points[FAULT_KIND_COUNT])
{
    struct run run;
    *ret = (struct witness){.copied = 0};
    begin(&run, scenario, (struct strike){.kind = FAULT_NONE}, ret);
    ret->after[0] = ledger_says(run.subject.path);
    ret->copied = ledger_says(run.subject.copy);
    fault_arm((struct strike){.kind = FAULT_NONE});
    while (run.said < scenario->steps) {
        if (!take_step(&run)) {
            fprintf(stderr, "%s, step %d: %s\n", scenario->name, run.said, run.err.text);
            abort();
        }
        fault_pause();
        ret->after[run.said] = ledger_says(run.subject.path);
        fault_resume();
    }
    fault_disarm();
    for (int kind = 0; kind < FAULT_KIND_COUNT; kind++)
        ret_points[kind] = kind == FAULT_VISITOR ? 0 : fault_points((enum fault_kind)kind);
    end(&run);
    oracle_ended(&run.place, &run.subject, ret, &run.before);
}

/* Nobody was told of the step that was under way, and it may have been done. */
static int most_after(const struct scenario *scenario, int said)
{
    return said < scenario->steps ? said + 1 : said;
}

/* Cuts of the run that is in the log. */
static void cut(const struct run *run, size_t events, enum outage kind, uint32_t seed,
                struct run_counts *counts)
{
    char when[96];
    struct finding_place place = run->place;
    snprintf(when, sizeof when, "cut after %zu of %zu (%s, seed %u)", events - run->from,
             disk_events() - run->from, outage_names[kind], seed);
    place.when = when;
    folder_make(ground.cut_folder);
    disk_after_cut(events, kind, seed, ground.cut_folder);
    int said = disk_said_by(events);
    oracle_after_death(&place, ground.cut_folder, run->witness, said,
                       most_after(run->scenario, said));
    counts->cuts++;
}

static void cut_at(const struct run *run, size_t events, int seeds, struct run_counts *counts)
{
    for (int kind = 0; kind < OUTAGE_COUNT; kind++) {
        int times = kind == OUTAGE_ALL || kind == OUTAGE_NONE ? 1 : seeds;
        for (int seed = 0; seed < times; seed++)
            cut(run, events, (enum outage)kind,
                (uint32_t)(events * 2654435761u + (unsigned)kind * 977u + (unsigned)seed * 131u),
                counts);
    }
}

/* Where not all points are tried: the first of them and the step between them, another place for
 * every scenario and kind, and the same in every run. */
struct stride {
    int first, step;
};
static struct stride stride(int points, int most, const char *name, int kind)
{
    if (most == 0 || points <= most)
        return (struct stride){1, 1};
    unsigned place = (unsigned)kind * 7919u;
    for (; *name != '\0'; name++)
        place = place * 31 + (unsigned char)*name;
    int step = points / most;
    return (struct stride){1 + (int)(place % (unsigned)step), step};
}

/* A copy that could not be taken away again. */
static bool is_in_the_way(const struct run *run)
{
    enum fault_kind kind = run->place.fault.kind;
    return run->err.code == ERR_EXISTS && (kind == FAULT_OS_EACCES || kind == FAULT_OS_EIO);
}

/* A fault, what is refused, the same step again, and all that follow. */
static void inject(const struct scenario *scenario, struct strike fault, struct witness *witness,
                   struct run_counts *counts)
{
    struct run run;
    begin(&run, scenario, fault, witness);
    fault_arm(fault);
    while (run.said < scenario->steps && take_step(&run))
        ;
    fault_disarm();
    counts->injected[fault.kind] += fault_struck() > 0;
    if (run.said < scenario->steps) {
        if (oracle_refused(&run.place, &run.subject, witness, run.said, &run.before, &run.err)) {
            /* Nobody was told, but whoever goes on builds on it. */
            if (++run.said < scenario->steps)
                disk_said();
        }
        while (run.said < scenario->steps && take_step(&run))
            ;
        if (run.said < scenario->steps && !is_in_the_way(&run))
            finding(&run.place, "the next step is refused, too: %s", run.err.text);
    }
    end(&run);
    run.place.when = "in the end";
    if (run.said == scenario->steps)
        oracle_ended(&run.place, &run.subject, witness, &run.before);
    /* What a failed sync has lost shows only after a cut. */
    if (fault.kind == FAULT_SYNC_LOST || fault.kind == FAULT_SYNC_KEPT)
        cut_at(&run, disk_events(), 1, counts);
}

/* The same in a child that ends before the call. */
static _Noreturn void live_until_killed(const struct scenario *scenario, struct strike strike,
                                        struct witness *witness)
{
    struct run run;
    begin(&run, scenario, strike, witness);
    fault_arm(strike);
    while (run.said < scenario->steps && take_step(&run))
        ;
    _exit(0);
}

static int wait_and_count(pid_t child, int from, int *ret_said)
{
    int status;
    char byte;
    for (*ret_said = 0; read(from, &byte, 1) == 1; ++*ret_said)
        ;
    close(from);
    if (waitpid(child, &status, 0) != child)
        abort();
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

static void kill_at(const struct scenario *scenario, int at, struct witness *witness,
                    struct run_counts *counts)
{
    const struct strike strike = {.kind = FAULT_KILL, .at = at};
    const struct finding_place place = {scenario, strike, "killed"};
    int ends[2], said;
    fflush(NULL);
    if (pipe(ends) != 0)
        abort();
    pid_t child = fork();
    if (child < 0)
        abort();
    if (child == 0) {
        ground.told = ends[1];
        live_until_killed(scenario, strike, witness);
    }
    close(ends[1]);
    int status = wait_and_count(child, ends[0], &said);
    if (status != KILLED && status != 0)
        finding(&place, "ended with status %d", status);
    counts->injected[FAULT_KILL] += status == KILLED;
    disk_forget();
    oracle_after_death(&place, ground.folder, witness, said, most_after(scenario, said));
}

static void cut_everywhere(const struct scenario *scenario, const struct run_depth *depth,
                           struct witness *witness, struct run_counts *counts)
{
    struct run run;
    begin(&run, scenario, (struct strike){.kind = FAULT_NONE}, witness);
    while (run.said < scenario->steps && take_step(&run))
        ;
    end(&run);
    int moments = (int)(disk_events() - run.from);
    struct stride tried = stride(moments, depth->moments, scenario->name, FAULT_NONE);
    for (int at = tried.first; at < moments; at += tried.step)
        cut_at(&run, run.from + (size_t)at, depth->seeds, counts);
    cut_at(&run, disk_events(), depth->seeds, counts); /* all was told */
}

static void strike_everywhere(const struct scenario *scenario, enum fault_kind kind,
                              const struct run_depth *depth, struct witness *witness,
                              struct run_counts *counts)
{
    int points = counts->points[kind];
    struct stride tried = stride(points, depth->points, scenario->name, (int)kind);
    bool all = depth->points == 0;
    for (int at = tried.first; at <= points; at += tried.step) {
        struct strike strike = {.kind = kind, .at = at};
        if (kind == FAULT_KILL) {
            kill_at(scenario, at, witness, counts);
            continue;
        }
        strike.lasting = !all && at % 2 == 1;
        inject(scenario, strike, witness, counts);
        strike.lasting = true;
        if (all)
            inject(scenario, strike, witness, counts);
    }
}

void run_scenario(const struct scenario *scenario, const struct run_depth *depth, const char *base,
                  struct run_counts *ret)
{
    struct witness witness;
    int before = findings();
    *ret = (struct run_counts){.cuts = 0};
    snprintf(ground.folder, sizeof ground.folder, "%.50s/run", base);
    snprintf(ground.cut_folder, sizeof ground.cut_folder, "%.50s/cut", base);
    ground.told = -1;

    witness_run(scenario, &witness, ret->points);
    for (int kind = FAULT_NONE + 1; kind <= FAULT_KILL; kind++)
        strike_everywhere(scenario, (enum fault_kind)kind, depth, &witness, ret);
    cut_everywhere(scenario, depth, &witness, ret);

    disk_forget();
    folder_clear(ground.folder);
    folder_clear(ground.cut_folder);
    ret->findings = findings() - before;
}
