#include "engine/protocol/uci.h"

int main(void)
{
    return uci_loop(stdin, stdout);
}
