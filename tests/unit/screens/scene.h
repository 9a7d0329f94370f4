/* Sheets in known states, for the tests of what is drawn of them. */
#ifndef SENBETSU_TESTS_UNIT_UI_SCENE_H
#define SENBETSU_TESTS_UNIT_UI_SCENE_H

#include "senbetsu/sheet/letters.h"
#include "senbetsu/ui/grid.h"
#include "support/fake_port.h"

struct scene {
    struct standard standard;
    struct fake_port port;
    struct sheet sheet;
    struct letters letters;
    char title[128];
    const char *judge;
};

/* Eleven aspects and ten faults on a scale of 1 to 5, as for a metallic fish at harvest. */
struct standard scene_standard(void);

/* As many aspects and faults as a standard may have, on a scale of 1 to 10. */
struct standard scene_largest_standard(void);

/* A bowl of `expected` fish in which nothing is judged yet, 08:41 in the morning. */
struct scene *scene_new(const struct standard *standard, int expected);
void scene_free(struct scene *scene);

/* Closes what is open of the sheet and looks again at the fish that are held. */
void scene_second_look(struct scene *scene);

void scene_do(struct scene *scene, enum sheet_command_kind kind, int number);

/* One letter a fish: k = all 4, h = all typical, r = a knock-out fault, l = lowest scores. Ten
 * seconds each. */
void scene_judge(struct scene *scene, const char *fish);

/* One part of the screen, drawn by itself, must read like this. */
typedef void (*draw_part)(struct grid *grid, struct area area, const struct sheet *sheet);
void assert_part(const struct scene *scene, draw_part draw, int rows, int columns,
                 const char *expected);

/* What is in the grid must be what tests/data/screens/NAME.txt shows. */
void assert_screen(const struct grid *grid, const char *name);

#endif
