#include "senbetsu/print/cautions.h"

const char *const cautions[] = {
    "Killing: a fish that no longer breathes is not yet dead, and carp revive. Make it "
    "unconscious, then use a second, physical method, then make sure. Never by chilling, out of "
    "water or by flushing. A vet and local law decide how. See the AVMA Guidelines for the "
    "Euthanasia of Animals and the WOAH Aquatic Code's general principles (its disease chapter "
    "leaves routine culling out).",
    "Dead fish: by the local rule, never into drains or water; never as food or feed if they were "
    "given a drug.",
    "Never release fish: it harms open waters and is unlawful in many places.",
    "Unexplained deaths: stop, move nothing, call the fish health authority (koi herpesvirus, KHV, "
    "is notifiable). Healthy ponds first; disinfect nets and bowls between ponds.",
    "You: gloves, dry floor, low-voltage lamps, mains behind a ground-fault switch (RCD), not "
    "alone.",
    NULL,
};
