/* A ledger from elsewhere is never read where it lies: it may be of an older layout, somebody may
 * be writing to it, and reading a WAL means writing beside it. It is copied, checked and brought
 * up, and the copy is thrown away. */
#include "guest.h"

#include "connection.h"
#include "senbetsu/base/text.h"

#include <sys/stat.h>

static bool is_itself(const char *path, const char *other)
{
    struct stat here, there;
    return stat(path, &here) == 0 && stat(other, &there) == 0 && here.st_dev == there.st_dev &&
           here.st_ino == there.st_ino;
}

static bool copy_pages(struct guest *guest, struct ledger *host, const char *path, struct err *err)
{
    struct text name;
    bool all;
    text_init(&name);
    text_addf(&name, "%s.joining", host->path);
    bool copied = copy_begin(&guest->copy, guest->db, path, name.data, err) &&
                  copy_step(&guest->copy, -1, &all, err);
    copy_close(&guest->copy);
    copied = copied && copy_whole(&guest->copy, err);
    text_done(&name);
    return copied;
}

bool guest_open(struct guest *guest, struct ledger *host, const char *path,
                const struct migration *steps, int count, struct err *err)
{
    *guest = (struct guest){.path = path, .copy.file.file = -1};
    if (is_itself(host->path, path))
        return err_set(err, ERR_INPUT, "This is the ledger itself; name another station's: %s.",
                       path);
    return file_check_header(path, count, err) && connection_open(path, false, &guest->db, err) &&
           connection_run(guest->db, path, "BEGIN", err) && /* it is copied as of one moment */
           copy_pages(guest, host, path, err) &&
           ledger_open_copy(guest->copy.file.temporary, path, &host->clock, steps, count,
                            &guest->version, &guest->ledger, err);
}

void guest_done(struct guest *guest)
{
    if (guest->ledger != NULL)
        ledger_close(guest->ledger);
    copy_done(&guest->copy);
    if (guest->db != NULL)
        connection_close(guest->db, guest->path, true);
}
