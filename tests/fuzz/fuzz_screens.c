/* Keys on the screens: any keys, from the first screen on, with a ledger of a few fish. Every
 * screen is drawn after each, and shows nothing that cannot be shown. */
#include "base_ledger.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/screens/screens.h"

#include <stdlib.h>
#include <unistd.h>

enum { KEYS_MOST = 200, SECOND_MS = 1000 };

/* Files that somebody has written to are in the folder, and nothing is printed. */
int LLVMFuzzerInitialize(int *count, char ***words)
{
    (void)count;
    (void)words;
    setenv("PATH", "/nowhere", 1);
    base_make();
    FUZZ_HOLDS(chdir(fuzz_folder()) == 0);
    return 0;
}

/* Bytes from 0x80 on are the keys without a character; a slash could lead out of the folder. */
static struct key key_from(struct fuzz_bytes *bytes)
{
    unsigned byte = fuzz_take(bytes);
    if (byte == '/')
        return (struct key){KEY_NONE, 0};
    if (byte >= ' ' && byte < 0x7F)
        return (struct key){KEY_CHARACTER, byte};
    if (byte >= 0xF0)
        return (struct key){KEY_CHARACTER, fuzz_take(bytes) << 8 | fuzz_take(bytes) | 0x80};
    if (byte >= 0xE0)
        return (struct key){KEY_FUNCTION, 1 + byte % 3};
    return (struct key){byte == '\r' ? KEY_RETURN : (enum key_kind)(byte % KEY_HANGUP), 'a'};
}

static void lay_down(void)
{
    FILE *file = fopen(base.path, "wb");
    FUZZ_HOLDS(file != NULL);
    FUZZ_HOLDS(fwrite(base_bytes.data, 1, base_bytes.length, file) == base_bytes.length);
    fclose(file);
}

static void hold_shown(struct app *app, struct grid *grid)
{
    struct text text;
    text_init(&text);
    app_draw(app, grid);
    app_shown(app);
    grid_text(grid, &text);
    for (const char *cursor = text.data; *cursor != '\0';) {
        uint32_t code = utf8_next(&cursor);
        FUZZ_HOLDS(code == '\n' || utf8_shown(code) == code);
    }
    text_done(&text);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
    struct fuzz_bytes rest = {bytes, length};
    static struct app app;
    struct grid grid;
    struct err err = {0};
    lay_down();
    base.now = 1784376000000;
    base.ledger = small_ledger_open(&base);
    app = (struct app){.ledger = base.ledger};
    bool wide = fuzz_take(&rest) % 4 == 3;
    grid_init(&grid, wide ? 40 : 24, wide ? 120 : 80);
    FUZZ_HOLDS(app_find_judge(&app, "Ines", &err));
    app_open_home(&app);
    for (int i = 0; i < KEYS_MOST && rest.left > 0 && app.screen_count > 0; i++) {
        hold_shown(&app, &grid);
        base.now += SECOND_MS;
        app_key(&app, key_from(&rest));
    }
    if (app.screen_count > 0)
        hold_shown(&app, &grid);
    app_pop_all(&app);
    grid_done(&grid);
    ledger_close(base.ledger);
    base_remove();
    return 0;
}
