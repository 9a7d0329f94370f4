#include "replay.h"

#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"

#include <stdlib.h>

static bool is_verdict(enum entry_kind kind)
{
    return kind == ENTRY_VERDICT || kind == ENTRY_CLOSE;
}

const char *entry_stored_what(const struct entry *entry)
{
    return is_verdict(entry->kind) ? verdict_terms[entry->number].word : entry->what;
}

bool entry_stored_number(const struct entry *entry, int64_t *ret_number)
{
    bool none = is_verdict(entry->kind) || entry->kind == ENTRY_TAG || entry->kind == ENTRY_NOTE ||
                (entry->kind == ENTRY_SCORE && entry->number == SCORE_NONE);
    if (none)
        return false;
    *ret_number = entry->number;
    return true;
}

static void read_entry(struct query *query, struct entry *ret)
{
    ret->kind = (enum entry_kind)row_word(query, entry_terms, ENTRY_KIND_COUNT);
    row_text(query, ret->what, sizeof ret->what);
    ret->number = (int)row_number_or(query, SCORE_NONE);
    row_text(query, ret->text, sizeof ret->text);
    if (is_verdict(ret->kind)) {
        ret->number = term_find(verdict_terms, VERDICT_COUNT, ret->what);
        ret->what[0] = '\0';
    }
}

void told_read(struct query *query, struct told *ret)
{
    ret->fish = row_number(query);
    ret->bowl_id = row_number(query);
    ret->bowl = (int)row_number(query);
    ret->number = (int)row_number(query);
    ret->look = (int)row_number(query);
    ret->at_ms = row_number(query);
    if (ret->look != 0)
        read_entry(query, &ret->entry);
}

bool fold(struct query *query, const struct standard *standard, struct fish **ret,
          size_t *ret_count, struct err *err)
{
    struct fish *fish = NULL;
    size_t count = 0;
    size_t capacity = 0;
    struct told told;
    while (query_step(query)) {
        told_read(query, &told);
        if (count == 0 || fish[count - 1].id != told.fish) {
            fish = alloc_room(fish, count, &capacity, sizeof *fish);
            fish_init(&fish[count++], told.fish, told.bowl_id, told.bowl, told.number);
        }
        if (told.look != 0)
            fish_apply(&fish[count - 1], standard, told.look, told.at_ms, &told.entry);
    }
    return query_list(query, fish, count, ret, ret_count, err);
}
