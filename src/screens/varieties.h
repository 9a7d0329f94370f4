/* The list of varieties on screen (varieties.c), and what forms do with one (variety_forms.c). */
#ifndef SENBETSU_SCREENS_VARIETIES_H
#define SENBETSU_SCREENS_VARIETIES_H

#include "senbetsu/screens/screen.h"
#include "senbetsu/store/retired.h"
#include "senbetsu/store/varieties.h"

/* Puts the list's name in place of what was typed into this line. Where the list has none such, a
 * form comes on top that asks what it is, and `*ret_asked` says so; once it is answered, this form
 * is accepted again. */
bool settle_variety(struct app *app, struct form *form, int line, bool *ret_asked, struct err *err);

/* A variety of NULL is a new one. */
void app_ask_variety(struct app *app, const struct variety *variety);
void app_ask_variety_change(struct app *app, enum record_kind kind, int64_t id);

#endif
