/* Joins and differences as pages, for the command and for the screen alike. */
#include "senbetsu/print/join.h"

#include <inttypes.h>

const char *station_shown(const char *name)
{
    return name[0] != '\0' ? name : "a station without a name";
}

static void add_instant(int64_t ms, int offset_minutes, struct text *out)
{
    char day[DATE_SIZE], time[TIME_OF_DAY_SIZE];
    date_of_instant(ms, offset_minutes, day);
    time_of_instant(ms, offset_minutes, time);
    text_addf(out, "%s %s", day, time);
}

void statement_origin_add(const struct statement_of *said, int offset_minutes, struct text *out)
{
    if (said->judge[0] != '\0')
        text_addf(out, "%s, ", said->judge);
    text_addf(out, "%s, ", station_shown(said->station));
    add_instant(said->at_ms, offset_minutes, out);
}

/* "3 parents, 1 bowl and 14 fish" */
static void add_kinds(const struct join *join, struct text *out)
{
    int kinds = 0, told = 0;
    for (int kind = 0; kind < JOINED_KINDS; kind++)
        kinds += join->added[kind] > 0;
    for (int kind = 0; kind < JOINED_KINDS; kind++) {
        int64_t added = join->added[kind];
        if (added == 0)
            continue;
        told++;
        text_addf(out, "%s%" PRId64 " %s",
                  told == 1       ? ""
                  : told == kinds ? " and "
                                  : ", ",
                  added, joined_words[kind][added != 1]);
    }
    if (kinds == 0)
        text_add(out, "no more than what other stations' records begin with");
}

static void add_station(struct page *page, const struct joined_station *station, int offset_minutes)
{
    struct text *line = &page->line;
    text_addf(line, "From %s: %" PRId64 " row%s", station_shown(station->name), station->rows,
              station->rows == 1 ? "" : "s");
    if (station->last_ms != 0) {
        text_add(line, ", ");
        add_instant(station->first_ms, offset_minutes, line);
        text_add(line, " to ");
        add_instant(station->last_ms, offset_minutes, line);
    }
    text_add(line, ".");
    page_line(page, "  ");
}

static void add_difference(struct page *page, const struct difference *difference,
                           int offset_minutes)
{
    page_part(page, "%s: %s", difference->title, difference->field);
    for (int i = 0; i < difference->count; i++) {
        const struct statement_of *said = &difference->said[i];
        text_addf(&page->line, "%s (", said->value[0] != '\0' ? said->value : "nothing");
        statement_origin_add(said, offset_minutes, &page->line);
        text_add(&page->line, ")");
        page_line(page, said->stands ? "    stands: " : "    or:     ");
    }
    page_together(page, false);
}

static void add_to_decide(struct page *page, const struct difference *differences, size_t count,
                          char *const *clashes, size_t clash_count, int offset_minutes)
{
    if (count > 0) {
        page_section(page, "Changed differently by two stations");
        page_addf(page, "The later change stands until somebody decides, or changes it again.");
        page_together(page, false);
    }
    for (size_t i = 0; i < count; i++)
        add_difference(page, &differences[i], offset_minutes);
    if (clash_count > 0) {
        page_section(page, "To be put right");
        page_together(page, false);
    }
    for (size_t i = 0; i < clash_count; i++)
        page_add(page, "- ", clashes[i]);
}

static void add_cautions(struct page *page, const struct join *join)
{
    if (join->layout != 0)
        page_addf(
            page,
            "The other ledger is of an older program (layout %d): it was read from a copy that "
            "was brought up.",
            join->layout);
    if (join->ahead_ms >= INT64_C(3600000))
        page_addf(page,
                  "The other station's clock is %" PRId64
                  " hours ahead of this one: set both right, for the later of two changes stands.",
                  join->ahead_ms / 3600000);
    else if (join->ahead_ms > 0)
        page_addf(
            page,
            "The other station's clock is %" PRId64
            " minutes ahead of this one: set both right, for the later of two changes stands.",
            join->ahead_ms / 60000);
}

void join_print(const struct join *join, const char *file, bool preview, int offset_minutes,
                struct page_setup setup, struct text *out)
{
    struct page page;
    page_start(&page, setup, preview ? "What joining %s brings" : "Joined: %s", file);
    if (join->rows == 0) {
        page_addf(&page, "Everything in it is in this ledger already.");
    } else {
        text_add(&page.line, preview ? "It brings " : "It brought ");
        add_kinds(join, &page.line);
        text_add(&page.line, ".");
        page_line(&page, "");
    }
    for (size_t i = 0; i < join->station_count; i++)
        add_station(&page, &join->stations[i], offset_minutes);
    add_cautions(&page, join);
    add_to_decide(&page, join->differences, join->difference_count, join->clashes,
                  join->clash_count, offset_minutes);
    if (join->before[0] != '\0') {
        page_blank(&page);
        page_addf(&page, "The ledger as it was before is kept as %s.", join->before);
    }
    page_finish(&page, out);
}

void differences_print(const struct difference *differences, size_t count, char *const *clashes,
                       size_t clash_count, int offset_minutes, struct page_setup setup,
                       struct text *out)
{
    struct page page;
    page_start(&page, setup, "What two stations changed differently");
    if (count + clash_count == 0)
        page_addf(&page, "There is nothing to decide.");
    add_to_decide(&page, differences, count, clashes, clash_count, offset_minutes);
    page_finish(&page, out);
}
