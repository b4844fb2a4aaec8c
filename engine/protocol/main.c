#include "engine/protocol/descriptors.h"
#include "engine/protocol/uci.h"

int main(void)
{
    return descriptors_hold() ? uci_loop(stdin, stdout) : 1;
}
