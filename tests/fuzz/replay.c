/* A target without libFuzzer: goes through the files it is given, and says before each which it is. So one that
 * ends the process is the last that was named. */
#include "fuzz.h"

#include <stdio.h>
#include <stdlib.h>

int main(int count, char **paths)
{
    for (int i = 1; i < count; i++) {
        FILE *file = fopen(paths[i], "rb");
        long size = file && fseek(file, 0, SEEK_END) == 0 ? ftell(file) : -1;
        uint8_t *bytes = size >= 0 ? malloc((size_t)size + (size == 0)) : NULL;
        if (!bytes || fseek(file, 0, SEEK_SET) != 0 || fread(bytes, 1, (size_t)size, file) != (size_t)size)
            fuzz_fault("%s cannot be read", paths[i]);
        fclose(file);
        printf("%s\n", paths[i]);
        fflush(stdout);
        LLVMFuzzerTestOneInput(bytes, (size_t)size);
        free(bytes);
    }
    return 0;
}
