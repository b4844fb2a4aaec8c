#include "bench/base/rule.h"

#include <string.h>

bool read_rule(const char *text, ps_rule *rule)
{
    for (int i = 0; i < PS_RULE_COUNT; i++) {
        if (strcmp(text, ps_rule_name(i)) == 0) {
            *rule = i;
            return true;
        }
    }
    return false;
}

void rule_words(const char *words[PS_RULE_COUNT + 1])
{
    for (int i = 0; i < PS_RULE_COUNT; i++)
        words[i] = ps_rule_name(i);
    words[PS_RULE_COUNT] = NULL;
}
