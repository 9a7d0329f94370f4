/* Size classes by total length, in millimetres. */
#ifndef SENBETSU_CORE_FISH_H
#define SENBETSU_CORE_FISH_H

/* The Japanese class (部, bu): 12, then 15, 20, … 85 with the upper bound in cm inclusive, 90 for
 * everything over 85 cm. 0 for lengths under 1 mm. Source: Japanese size-class lists. */
int size_class_bu(int length_mm);

/* Bands of 10 cm as a ZNA regional chapter's 2025 show categories have them: 1 = 10.0–19.9 cm …
 * 8 = 80 cm and over; 0 = under 10 cm, not judged. */
int size_class_decimetre(int length_mm);

#endif
