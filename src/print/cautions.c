/* The cautions of the cull list, written for somebody who reads them once, in the light of a lamp,
 * with the net in the other hand: what to do first, then why.
 *
 * They stand before the work and not after it. Facts and waiting times come from the guidance that
 * is named at the end, where it takes no room from what must be read: 30 minutes after the gills
 * have stopped is the AVMA's (2020), 60 minutes and the heartbeat the BSAVA's; koi have begun to
 * breathe again after 10 to 12 minutes in a bath meant to kill them. That a method is lawful, and
 * its dose, only local law and a vet can say. */
#include "senbetsu/print/cautions.h"

#include <stddef.h>

const char *const cautions[] = {
    "Many dead or sick fish in one pond? Stop. Do not cull, move no fish, call the fish health "
    "authority: koi herpesvirus (KHV) must be reported.",
    "Kill only by a way that local law and a vet allow, and only if you have learned it. First "
    "make "
    "the fish unconscious, then do a second, physical step: carp need both. Never by cold or ice, "
    "in "
    "the air, awake in the freezer, or by flushing.",
    "Still gills are not death: carp have begun to breathe again after 10 minutes. Note when the "
    "last gill stops, wait 30 minutes at least, better 60, then check every fish: no gill moves, "
    "no "
    "heart beats. In doubt, do the second step again.",
    "Dead fish go where the local rule says, never into drains or open water. After a drug they "
    "are "
    "no food and no feed.",
    "Never release a fish into open water: it does harm there and is unlawful in many places.",
    "You: gloves, dry floor, low-voltage lamps, mains behind a ground-fault switch (RCD), not "
    "alone. Healthy ponds first; disinfect nets and bowls between ponds.",
    NULL,
};

void cautions_print(struct page *page)
{
    page_section(page, "Read before you begin");
    for (const char *const *caution = cautions; *caution != NULL; caution++)
        page_add(page, "- ", *caution);
    page_together(page, false);
}

void guidance_print(struct page *page)
{
    page_section(page, "Guidance behind the cautions");
    page_addf(page, "AVMA Guidelines for the Euthanasia of Animals; BSAVA formulary; WOAH Aquatic "
                    "Code, principles of its chapter on killing for disease control (routine "
                    "culling is outside it). Local law goes first.");
    page_together(page, false);
}
