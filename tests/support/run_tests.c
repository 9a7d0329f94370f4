/* The main of a layer's test program: it runs the test files that it is given by name, or all of
 * them in turn. ALL_TESTS, which the build defines, is A_TEST(file) for each; every file's own main
 * has become test_FILE. A file ends with the number of its tests that failed. */
#include <stdio.h>
#include <string.h>

#define A_TEST(name) int test_##name(void);
ALL_TESTS
#undef A_TEST

static const struct {
    const char *name;
    int (*run)(void);
} files[] = {
#define A_TEST(name) {#name, test_##name},
    ALL_TESTS
#undef A_TEST
};

enum { FILES = sizeof files / sizeof *files };

static int run(const char *name)
{
    for (int i = 0; i < FILES; i++) {
        if (strcmp(files[i].name, name) == 0) {
            fprintf(stderr, "test_%s.c\n", name);
            return files[i].run();
        }
    }
    fprintf(stderr, "There is no test file %s here.\n", name);
    return 1;
}

int main(int count, char **names)
{
    int failed = 0;
    for (int i = 1; i < count; i++)
        failed += run(names[i]);
    for (int i = 0; i < FILES && count < 2; i++)
        failed += run(files[i].name);
    return failed > 0;
}
