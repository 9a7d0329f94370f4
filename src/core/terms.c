/* The closed lists of words, and the text that names a range of stages.
 *
 * Words of files and ledger are fixed once released: an old file must stay readable. The gloss
 * beside each is free to change. */
#include "senbetsu/core/terms.h"
#include "senbetsu/base/text.h"

#include <stdio.h>
#include <string.h>

const struct term stage_terms[STAGE_COUNT] = {
    [STAGE_BLACK] = {"black", "black fry, kuroko (黒子)"},
    [STAGE_FIRST] = {"first", "first selection, ichiji (一次)"},
    [STAGE_SECOND] = {"second", "second selection, niji (二次)"},
    [STAGE_THIRD] = {"third", "third selection, sanji (三次)"},
    [STAGE_FOURTH] = {"fourth", "fourth selection"},
    [STAGE_HARVEST] = {"harvest", "autumn harvest"},
    [STAGE_HOUSE] = {"house", "indoors, winter and spring"},
};

const struct term verdict_terms[VERDICT_COUNT] = {
    [VERDICT_OPEN] = {"open", "not fully judged"},
    [VERDICT_KEEP] = {"keep", "goes on"},
    [VERDICT_HOLD] = {"hold", "look again"},
    [VERDICT_REJECT] = {"reject", "hane (ハネ)"},
};

const struct term fate_terms[FATE_COUNT] = {
    [FATE_UNDECIDED] = {"", "not decided"},
    [FATE_POND_GRADE] = {"pond-grade", "sold as pond fish, nami (並)"},
    [FATE_PASSED_ON] = {"passed-on", "given or sold to another keeper"},
    [FATE_KEPT_APART] = {"kept-apart", "kept in a pond of their own"},
    [FATE_PUT_DOWN] = {"put-down", "put down humanely"},
};

const struct term manner_terms[MANNER_COUNT] = {
    [MANNER_PICK] = {"pick", "the good ones are taken out"},
    [MANNER_REMOVE] = {"remove", "the bad ones are taken out"},
    [MANNER_JUDGE] = {"judge", "each fish is scored"},
};

const struct term siring_terms[SIRING_COUNT] = {
    [SIRING_SINGLE] = {"single", "one sire"},
    [SIRING_SPLIT] = {"split", "eggs split by sire"},
    [SIRING_POOLED] = {"pooled", "mixed milt"},
    [SIRING_GROUP] = {"group", "several males spawned together"},
};

const struct term sex_terms[SEX_COUNT] = {
    [SEX_UNKNOWN] = {"", "not known"},
    [SEX_FEMALE] = {"f", "female, mesu (雌)"},
    [SEX_MALE] = {"m", "male, osu (雄)"},
};

const struct term brood_state_terms[BROOD_STATE_COUNT] = {
    [BROOD_UNSAID] = {"", "not said"},
    [BROOD_AVAILABLE] = {"available", "can be set"},
    [BROOD_RESTING] = {"resting", "not to be set this season"},
    [BROOD_SOLD] = {"sold", "has left"},
    [BROOD_DEAD] = {"dead", "has died"},
};

const struct term waiting_terms[WAITING_COUNT] = {
    [WAITING_BASIN] = {"basin", "into the verdict's basin at once"},
    [WAITING_CELL] = {"cell", "in numbered cells until the evening's list"},
};

const struct term method_terms[METHOD_COUNT] = {
    [METHOD_UNSAID] = {"", "not said"},
    [METHOD_COUNTED] = {"counted", "fish by fish"},
    [METHOD_WEIGHED] = {"weighed", "from the weight of samples"},
    [METHOD_DISPLACED] = {"displaced", "from the water that samples displace"},
    [METHOD_SCOOPED] = {"scooped", "by scoops, some of them counted"},
    [METHOD_ESTIMATED] = {"estimated", "by eye"},
};

const char *stage_range(enum stage first, enum stage last, char ret[STAGE_RANGE_SIZE])
{
    snprintf(ret, STAGE_RANGE_SIZE, "%s%s%s", stage_terms[first].word, first == last ? "" : " to ",
             first == last ? "" : stage_terms[last].word);
    return ret;
}
