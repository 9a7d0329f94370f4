/* What sheet.c, sheet_tags.c and sheet_find.c, which carry the commands out, need of each other. */
#ifndef SENBETSU_SHEET_SHEET_COMMANDS_H
#define SENBETSU_SHEET_SHEET_COMMANDS_H

#include "senbetsu/sheet/sheet.h"

/* The mode and what stands in its line. Both return true: a mode that can be entered always is. */
bool sheet_set_mode(struct sheet *sheet, enum sheet_mode mode, const char *line);
bool sheet_back_to_judging(struct sheet *sheet);

/* The last fish of a full bowl stays as it is until somebody asks for it. Returns false. */
bool sheet_refuse_unasked(struct sheet *sheet);

/* Which fish has the tag (none has an empty one). */
bool sheet_find_bearer(struct sheet *sheet, const char *tag, struct tag_bearer *ret);

/* A tag for the fish in front, "" = none; it may lead to a question, which the second answers with
 * yes. */
bool sheet_take_tag(struct sheet *sheet, const char *tag);
bool sheet_take_doubtful_tag(struct sheet *sheet);

/* The digits since the mark were a reader's: they are taken back, and its tag is taken; or they
 * were so many, which is no tag. */
bool sheet_scan(struct sheet *sheet, const char *tag);
bool sheet_misread(struct sheet *sheet, int digits);

/* Finding: after each character of the line, and when it is accepted; and a fish by its tag. */
bool sheet_accept_find(struct sheet *sheet, const char *line, struct sheet_effects *effects);
bool sheet_find_tag(struct sheet *sheet, const char *text, struct sheet_effects *effects);

#endif
