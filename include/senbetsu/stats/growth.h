/* How fish stand and how they grow. */
#ifndef SENBETSU_STATS_GROWTH_H
#define SENBETSU_STATS_GROWTH_H

/* Fulton's condition factor, 100 · weight ÷ length³ with grams and centimetres. Only fish measured
 * in the same way compare, and fry are not built like fish yet. */
double condition_factor(double weight_g, double length_mm);

/* Per cent a day, as if growth went on evenly by compound interest:
 * 100 · (ln after − ln before) ÷ days. Weights in any unit. */
double growth_per_day(double before, double after, double days);

#endif
