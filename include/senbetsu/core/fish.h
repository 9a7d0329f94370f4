/* A fish: its row in a file, its tag and its size classes. */
#ifndef SENBETSU_CORE_FISH_H
#define SENBETSU_CORE_FISH_H

#include "senbetsu/core/column.h"

enum { LENGTH_MOST = 2000 }; /* mm */

/* What a row of the fish file states, but for the scores: those stand in columns that are named by
 * the standard's aspects. */
struct fish_statement {
    char spawning[CODE_SIZE], lot[CODE_SIZE];
    enum stage stage;
    int bowl, number;
    char judge[CODE_SIZE];
    char date[DATE_SIZE];
    int length_mm; /* 0 = not measured */
    char tag[CODE_SIZE];
    char faults[CODES_SIZE]; /* codes of the standard's faults */
};

enum {
    FISH_COLUMN_SPAWNING,
    FISH_COLUMN_LOT,
    FISH_COLUMN_STAGE,
    FISH_COLUMN_BOWL,
    FISH_COLUMN_NUMBER,
    FISH_COLUMN_JUDGE,
    FISH_COLUMN_DATE,
    FISH_COLUMN_LENGTH,
    FISH_COLUMN_TAG,
    FISH_COLUMN_FAULTS,
    FISH_COLUMN_COUNT
};
extern const struct column fish_statement_columns[FISH_COLUMN_COUNT];

enum { TAG_DIGITS = 15 };

/* Fifteen digits as ISO 11784 codes an animal transponder and ISO 11785 readers print it: a country
 * or manufacturer code of three digits (001–999), then a number below 2^38. */
bool tag_is_transponder(const char *text);

/* The fish that carries a tag, of all in the ledger. */
struct tag_bearer {
    int64_t fish; /* its id, 0 = no fish has the tag */
    int bowl, number;
    bool same_round;     /* as the one that was asked for */
    bool same_spawning;  /* likewise; true where a mixed lot leaves it open */
    char lot[CODE_SIZE]; /* the code of its spawning, or of its mixed lot */
    enum stage stage;
};

/* Size classes by total length, in millimetres. */

/* The Japanese class (部, bu): 12, then 15, 20, … 85 with the upper bound in cm inclusive, 90 for
 * everything over 85 cm. 0 for lengths under 1 mm. Source: Japanese size-class lists. */
int size_class_bu(int length_mm);

/* Bands of 10 cm as a ZNA regional chapter's 2025 show categories have them: 1 = 10.0–19.9 cm …
 * 8 = 80 cm and over; 0 = under 10 cm, not judged. */
int size_class_decimetre(int length_mm);

#endif
