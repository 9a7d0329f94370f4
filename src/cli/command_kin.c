#include "senbetsu/cli/commands.h"
#include "senbetsu/print/kin.h"
#include "senbetsu/report/pedigree.h"

static bool find(const struct pedigree *pedigree, const char *code, int *ret_place, struct err *err)
{
    int place = pedigree_place(pedigree, code);
    if (place == UNKNOWN_PARENT)
        return err_set(err, ERR_ABSENT, "There is no parent %s in the ledger.", code);
    *ret_place = place;
    return true;
}

static bool tell(struct session *session, const struct pedigree *pedigree, struct err *err)
{
    const struct options *options = session->options;
    int pair[2] = {0, 0};
    struct kinship kinship;
    for (int i = 0; i < 2; i++)
        if (!find(pedigree, options->arguments[i], &pair[i], err))
            return false;
    if (!kinship_make(pedigree->fish, pedigree->count, pair, 2, &kinship, err))
        return false;
    struct kin kin = {.kinship = &kinship,
                      .a = pair[0],
                      .b = pair[1],
                      .sex_a = pedigree->parents[pair[0]].sex,
                      .sex_b = pedigree->parents[pair[1]].sex};
    if (options->given[OPTION_CSV])
        kin_csv(&kin, &session->out);
    else
        kin_print(&kin, session_page(session), &session->out);
    kinship_done(&kinship);
    return true;
}

bool command_kin(struct session *session, struct err *err)
{
    struct pedigree pedigree;
    if (!session_open_to_read(session, err) || !pedigree_read(session->ledger, &pedigree, err))
        return false;
    bool told = tell(session, &pedigree, err);
    pedigree_done(&pedigree);
    return told;
}
