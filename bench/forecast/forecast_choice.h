/* Which lever comes first, of all that are structurally there? A conditional logit over ForecastChoice, at the moments firm
 * and not_rammed. A side is used if two levers or more are there, if its linked pawns do not point both ways, and if its
 * first lever is one of those that were there; others became possible only later. */
#ifndef PAWNVANE_FORECAST_CHOICE_H
#define PAWNVANE_FORECAST_CHOICE_H

#include "bench/base/conditional_logit.h"
#include "bench/forecast/forecast_data.h"

/* What is known of an alternative. */
typedef enum ForecastCovariate {
    FORECAST_NAMED,        /* 1 if the direction names its square */
    FORECAST_NAMED_RAMMED, /* the same at the moment firm: what the lock adds */
    FORECAST_NAMED_BLACK,  /* the same for Black */
    FORECAST_STEPS,
    FORECAST_BLOCKERS,
    FORECAST_SUPPORT,    /* supporters minus attackers */
    FORECAST_OWN_KING,   /* 1 if it is in the region where the own king stands */
    FORECAST_OTHER_KING, /* ... the other king stands */
    FORECAST_COVARIATE_COUNT
} ForecastCovariate;

const char *forecast_covariate_name(int covariate);
const char *forecast_covariate_words(int covariate); /* for people */

typedef struct ForecastChoiceModel {
    bool fitted; /* false: too little varies, and nothing in `fit` means anything */
    LogitFit fit;
    size_t sides, alternatives; /* used */
    size_t candidates;          /* sides at these moments whose pawns point one way */
    size_t no_lever;            /* of these: none was played; */
    size_t not_there;           /* the first one was not there at the moment; */
    size_t no_choice;           /* it was the only one */
} ForecastChoiceModel;

/* False if memory runs out. */
bool forecast_fit_choice(const ForecastData *data, ForecastChoiceModel *model);

#endif
