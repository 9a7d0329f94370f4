/* Waiting for another program that writes. SQLite itself waits longer with every try, up to a tenth
 * of a second: whoever has waited long comes too late again and again, while others have had the
 * ledger many times. Tries that stay short give everybody the same chance each time that the ledger
 * is free, and a commit, most of which is waiting for the disk, takes longer than they do. They are
 * never the same in two programs, so that these do not keep in step. */
#include "connection.h"

#include <stdint.h>
#include <time.h>
#include <unistd.h>

enum { LONGEST_US = 3000, USUAL_US = LONGEST_US / 2, GIVE_UP_US = 3000000 };

/* A length from 0 to LONGEST_US that nobody foresees. Any mixing of the two numbers will do. */
static long draw_us(int tries)
{
    uint32_t mixed = ((uint32_t)getpid() * 0x9e3779b9u) ^ ((uint32_t)tries * 0x85ebca6bu);
    mixed ^= mixed >> 15;
    mixed *= 0x2c1b3c6du;
    mixed ^= mixed >> 13;
    return (long)(mixed % (LONGEST_US + 1));
}

bool connection_wait(int tries)
{
    if (tries >= GIVE_UP_US / USUAL_US)
        return false;
    nanosleep(&(struct timespec){.tv_nsec = draw_us(tries) * 1000}, NULL);
    return true;
}

static int wait_again(void *unused, int tries)
{
    (void)unused;
    return connection_wait(tries);
}

void connection_wait_for_others(sqlite3 *db)
{
    sqlite3_busy_handler(db, wait_again, NULL);
}
