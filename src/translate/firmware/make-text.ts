/** How the output is built on a host, and where each part belongs. */
export function makefile(prefix: string, sources: readonly string[]): string {
  return `# Builds the module with its test harness on this machine: make, then ./${prefix}_run < drive.log
CC ?= cc
CFLAGS ?= -O2
STRICT = -std=c99 -Wall -Wextra -Wpedantic -Wconversion -Werror
SOURCES = ${sources.join(' ')}

${prefix}_run: $(SOURCES) $(wildcard *.h)
\t$(CC) $(STRICT) $(CFLAGS) -o $@ $(SOURCES)

sanitized: $(SOURCES) $(wildcard *.h)
\t$(CC) $(STRICT) -g -O1 -fsanitize=undefined,address -fno-sanitize-recover=all -o ${prefix}_sanitized $(SOURCES)

clean:
\trm -f ${prefix}_run ${prefix}_sanitized

.PHONY: sanitized clean
`;
}
