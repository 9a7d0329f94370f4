/* What one key press (a stroke) writes into the ledger, and how the strokes of a fish are replayed
 * into what is known of it. Strokes are only ever added; an undo is one more stroke that takes an
 * earlier one out of the sum. */
#ifndef SENBETSU_CORE_ENTRY_H
#define SENBETSU_CORE_ENTRY_H

#include "senbetsu/core/judgement.h"
#include <stdint.h>

enum entry_kind {
    ENTRY_SCORE,   /* what = aspect code, number = score, SCORE_NONE takes it away */
    ENTRY_FAULT,   /* what = fault code, number = 1 seen, 0 taken away */
    ENTRY_VERDICT, /* number = enum verdict by hand (VERDICT_OPEN takes it away), text = why */
    ENTRY_CLOSE,   /* number = enum verdict shown when the fish was put away; what = CLOSE_NO_PLACE:
                      its score would keep it, it is on hold since no place was left; else "" */
    ENTRY_LENGTH,  /* number = mm, 0 takes it away */
    ENTRY_TAG,     /* text */
    ENTRY_NOTE,    /* text */
    ENTRY_KIND_COUNT,
};

#define CLOSE_NO_PLACE "places"

struct entry {
    enum entry_kind kind;
    char what[CODE_CHARACTERS + 1];
    int number;
    char text[NOTE_SIZE];
};

/* A stroke belongs to one fish and one look (1 = the first, 2 = the second look, …). It has at most
 * one entry for each aspect, fault or field. */
enum { STROKE_ENTRIES = STANDARD_ASPECTS + STANDARD_FAULTS + 5 };

struct stroke {
    int64_t id;      /* given by the ledger */
    int64_t fish;    /* the fish's id */
    int64_t judge;   /* the judge's id, 0 = unknown */
    int look;        /* 1 or more */
    bool checking;   /* a second sorter's check of the same fish: recorded, never deciding */
    bool correction; /* it changes a fish that had been closed before */
    int64_t at_ms;
    int64_t standard; /* id of the version that its codes are of; needed with scores and faults */
    int64_t undoes;   /* id of the stroke it takes back, 0 = none; such a stroke has no entries */
    int entry_count;
    struct entry entries[STROKE_ENTRIES];
};

/* A stroke that can be undone, and the fish it was for. */
struct undoable {
    int64_t stroke;
    int64_t fish;
};

/* What is known of a fish. */
struct fish {
    int64_t id;
    int64_t bowl_id;
    int bowl, number;
    int length_mm; /* 0 = not measured */
    char tag[CODE_SIZE];
    char note[NOTE_SIZE];
    char hand_reason[NOTE_SIZE];
    int look; /* the look that `judgement` holds; 0 = never looked at */
    struct judgement judgement;
    uint32_t denied;     /* faults of which this look said that they are not there (any more) */
    bool closed;         /* this look was closed and nothing has been taken back since */
    enum verdict sent;   /* the verdict shown at the last closing */
    bool no_place;       /* then no place was left: hold, though its score would keep it */
    int64_t first_ms;    /* when the first look began, 0 = never looked at */
    int64_t closed_ms;   /* when it was last closed */
    int closed_look;     /* the look that was last closed, 0 = none */
    enum verdict stands; /* what stands of it in the ledger; set where a fish is read from it */
    bool changed;        /* likewise: judged or corrected since its round's latest pass */
    int64_t mark;        /* how much the ledger had recorded of it when this was known to be all
                            (fish_now); 0 = not known to be */
    struct judgement earlier; /* the last look before `look` that was closed, else the first one;
                                 empty during the first look */
};

void fish_init(struct fish *fish, int64_t id, int64_t bowl_id, int bowl, int number);

/* What the first entry of a later look does to a fish before it is applied: the judgement moves to
 * `earlier` (a look broken off does not push a finished one out), an empty one begins, and a
 * verdict by hand stays. */
void fish_begin_look(struct fish *fish, int look, int64_t at_ms);

/* Adds one entry of look `look` to what is known. A later look starts with an empty judgement and
 * moves the current one to `earlier`. Codes that `standard` does not have are ignored: they belong
 * to another version. A score outside the standard's scale counts as not judged. */
void fish_apply(struct fish *fish, const struct standard *standard, int look, int64_t at_ms,
                const struct entry *entry);

/* The same of a score, or of a fault, by its index in the standard; -1 = it does not have it. */
void fish_apply_score(struct fish *fish, const struct standard *standard, int look, int64_t at_ms,
                      int aspect, int score);
void fish_apply_fault(struct fish *fish, int look, int64_t at_ms, int fault, bool seen);

/* The judgement that decides: the last look if it is complete (not VERDICT_OPEN under `standard`),
 * else `earlier` where that is complete. A verdict by hand holds through all looks. */
struct judgement fish_deciding(const struct fish *fish, const struct standard *standard);

/* What the ledger keeps of it. A fish that was put on hold for want of a place is `no_place` as
 * long as nothing but its score decides that it would be kept. */
struct cached_verdict fish_cached_verdict(const struct fish *fish, const struct standard *standard);

#endif
