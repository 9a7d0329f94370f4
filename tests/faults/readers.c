/* The writer is another ledger handle of the product's own; he changes what two of the report's
 * parts tell in one transaction. */
#include "readers.h"

#include "senbetsu/base/text.h"
#include "senbetsu/exchange/exchange.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct scenario reading = {.name = READERS_NAME, .ground = GROUND_CLEAN, .steps = 1};

static bool take(struct ledger *ledger, bool (*import)(struct import *, struct err *),
                 const char *rows, struct err *err)
{
    struct text bytes;
    struct import from = {.ledger = ledger, .file = "office.csv", .bytes = &bytes};
    text_init(&bytes);
    text_add(&bytes, rows);
    bool taken = import(&from, err);
    text_done(&bytes);
    return taken;
}

static void write_beside(void *context)
{
    struct subject *writer = context;
    struct ledger *ledger = writer->ledger;
    struct err err;
    if (!transaction_begin(ledger, &err) ||
        !take(ledger, import_spawnings,
              "spawning,season,date,variety,dam,sires,eggs\n"
              "K1,2026,2026-06-01,Kikusui,D1,S1,90000\n",
              &err) ||
        !take(ledger, import_rounds,
              "spawning,lot,stage,date,manner,in,in_how,kept,kept_how\n"
              "K1,,second,2026-08-01,pick,700,counted,300,counted\n",
              &err) ||
        !transaction_commit(ledger, &err)) {
        fprintf(stderr, "The writer cannot write: %s\n", err.text);
        abort();
    }
}

/* As every command does that reads. */
static bool report(struct ledger *ledger, struct text *out, struct err *err)
{
    ledger_read_begin(ledger);
    bool read = export_rounds(ledger, out, err) && export_lots(ledger, out, err) &&
                export_parents(ledger, out, err) && export_spawnings(ledger, out, err);
    ledger_read_end(ledger);
    return read;
}

/* What a report tells while the writer comes by at this point, 0 = he does not. */
static void read_once(const char *folder, int at, struct text *ret, struct text *ret_after)
{
    struct subject reader, writer;
    struct err err;
    const struct finding_place place = {&reading, {.kind = FAULT_VISITOR, .at = at}, "read"};
    subject_begin(&reader, folder, reading.ground);
    disk_watch(ground_image(reading.ground), folder);
    writer = reader;
    if (!subject_open(&reader, 0, &err) || !subject_open(&writer, 0, &err))
        abort();
    fault_set_visitor(write_beside, &writer);
    fault_arm(place.fault);
    if (!report(reader.ledger, ret, &err))
        finding(&place, "the report failed: %s", err.text);
    fault_disarm();
    if (at == 0)
        write_beside(&writer);
    if (ret_after != NULL && !report(reader.ledger, ret_after, &err))
        finding(&place, "the report after it failed: %s", err.text);
    subject_end(&writer);
    subject_end(&reader);
    disk_forget();
}

void run_readers(const struct run_depth *depth, const char *base, struct run_counts *ret)
{
    char folder[64];
    struct text before, after, now;
    int found = findings();
    *ret = (struct run_counts){.cuts = 0};
    snprintf(folder, sizeof folder, "%.50s/run", base);
    text_init(&before);
    text_init(&after);
    text_init(&now);
    read_once(folder, 0, &before, &after);
    int points = ret->points[FAULT_VISITOR] = fault_points(FAULT_VISITOR);
    int step = depth->points == 0 || points <= 8 * depth->points ? 1 : points / (8 * depth->points);
    for (int at = 1; at <= points; at += step) {
        const struct finding_place place = {&reading, {.kind = FAULT_VISITOR, .at = at}, "read"};
        text_clear(&now);
        read_once(folder, at, &now, NULL);
        ret->injected[FAULT_VISITOR] += fault_struck() > 0;
        if (strcmp(now.data, before.data) != 0 && strcmp(now.data, after.data) != 0)
            finding(&place, "the report tells something of before and something of after");
    }
    if (strcmp(before.data, after.data) == 0)
        abort();
    text_done(&before);
    text_done(&after);
    text_done(&now);
    folder_clear(folder);
    ret->findings = findings() - found;
}
