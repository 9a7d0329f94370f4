/* The forms that put a record right (correction_forms.c), as its screen opens them (record.c). */
#ifndef SENBETSU_SCREENS_CORRECTIONS_H
#define SENBETSU_SCREENS_CORRECTIONS_H

#include "senbetsu/core/lot.h"
#include "senbetsu/screens/screen.h"
#include "senbetsu/store/retired.h"

void app_ask_name(struct app *app, enum record_kind kind, int64_t id);
void app_ask_whose_name(struct app *app, enum record_kind kind, int64_t judge);
void app_ask_retire(struct app *app, enum record_kind kind, int64_t id);
void app_ask_bowl_change(struct app *app, enum record_kind kind, int64_t bowl);
void app_ask_fish_move(struct app *app, enum record_kind kind, int64_t bowl);
void app_ask_bowl_merge(struct app *app, enum record_kind kind, int64_t bowl);
void app_ask_round_numbers(struct app *app, enum record_kind kind, int64_t round);
/* An event, said again as it should have been (lot_forms.c). */
void app_ask_lot_event(struct app *app, int64_t lot, const struct lot_event *event);

/* At once: nothing is lost by it. */
void app_bring_back(struct app *app, enum record_kind kind, int64_t id);

#endif
