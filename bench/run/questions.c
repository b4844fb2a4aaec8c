#include "bench/run/questions.h"

Option questions_effect_option(Questions *questions)
{
    return (Option){.name = "effect",
                    .argument = "ELO",
                    .help = "say how many pairs it takes to find so much",
                    .real = &questions->effect,
                    .real_least = 0.1,
                    .real_greatest = 800};
}

Option questions_margin_option(Questions *questions)
{
    return (Option){.name = "margin",
                    .argument = "ELO",
                    .help = "test whether the arms are equivalent within it",
                    .real = &questions->margin,
                    .real_least = 0.1,
                    .real_greatest = 800};
}
