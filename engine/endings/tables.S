/* The tables of endings, as solve_endings has written them. */
        .section .rodata
        .global ending_file
        .hidden ending_file
        .balign 64
ending_file:
        .incbin ENDINGS
        .section .note.GNU-stack, "", %progbits
