/** The functions of the host harness. */
export const HARNESS_SOURCE = String.raw`#include "xlc_harness.h"

#include <inttypes.h>
#include <string.h>

#define MOST_OTHER_NAMES 32u

static const xlc_module *running;
static xlc_name other_names[MOST_OTHER_NAMES];
static size_t other_count;
static FILE *output;
static uint64_t now;
static uint64_t next_tick;
static bool powered;

static const char *name_of(const xlc_name *names, size_t count, uint8_t number)
{
    size_t i;

    for (i = 0u; i < count; i++) {
        if (names[i].number == number) {
            return names[i].name;
        }
    }
    return "?";
}

static bool number_of(const xlc_name *names, size_t count, const char *name, uint8_t *number)
{
    size_t i;

    for (i = 0u; i < count; i++) {
        if (strcmp(names[i].name, name) == 0) {
            *number = names[i].number;
            return true;
        }
    }
    return false;
}

/* As the log calls it, where an argument said so. */
static const char *bus_name(uint8_t bus)
{
    size_t i;

    for (i = 0u; i < other_count; i++) {
        if (other_names[i].number == bus) {
            return other_names[i].name;
        }
    }
    return name_of(running->buses, running->bus_count, bus);
}

static void print_time(uint64_t time_us)
{
    (void)fprintf(output, "(%010" PRIu64 ".%06" PRIu64 ") ", time_us / 1000000u, time_us % 1000000u);
}

void xlc_harness_send(const xlc_frame *frame, uint64_t now_us)
{
    uint8_t i;

    print_time(now_us + running->latency_us);
    (void)fprintf(output, "%s ", bus_name(frame->bus));
    (void)fprintf(output, frame->extended ? "%08" PRIX32 : "%03" PRIX32, frame->id);
    (void)fputs(frame->fd ? "##0" : "#", output);
    for (i = 0u; i < frame->length; i++) {
        (void)fprintf(output, "%02X", (unsigned)frame->data[i]);
    }
    (void)fputc('\n', output);
}

void xlc_harness_drive(uint8_t pin, bool driven, int32_t level, uint64_t now_us)
{
    print_time(now_us + running->latency_us);
    (void)fprintf(output, "wire %s ", name_of(running->pins_out, running->pin_out_count, pin));
    if (driven) {
        (void)fprintf(output, "%" PRId32 "\n", level);
    } else {
        (void)fputs("open\n", output);
    }
}

static void power(uint64_t time_us)
{
    if (!powered) {
        powered = true;
        now = time_us;
        running->init(time_us);
        next_tick = time_us + running->start_us;
    }
}

/* Every tick before a moment, or at it as well. A clock that runs backwards stands still. */
static void pass(uint64_t time_us, bool inclusive)
{
    power(time_us);
    if (time_us < now) {
        return;
    }
    now = time_us;
    while (next_tick < now || (inclusive && next_tick == now)) {
        running->tick(next_tick);
        next_tick += running->period_us;
    }
}

static int digit_of(char letter)
{
    if (letter >= '0' && letter <= '9') {
        return letter - '0';
    }
    if (letter >= 'A' && letter <= 'F') {
        return letter - 'A' + 10;
    }
    return letter >= 'a' && letter <= 'f' ? letter - 'a' + 10 : -1;
}

/* "(12.345678) " */
static const char *read_time(const char *text, uint64_t *time_us)
{
    uint64_t us = 0u;
    uint64_t part = 100000u;
    unsigned digits = 0u;

    if (*text++ != '(') {
        return NULL;
    }
    for (; *text >= '0' && *text <= '9' && digits < 12u; text++, digits++) {
        us = us * 10u + (uint64_t)(*text - '0');
    }
    us *= 1000000u;
    if (digits == 0u || *text++ != '.') {
        return NULL;
    }
    for (; *text >= '0' && *text <= '9'; text++) {
        us += part * (uint64_t)(*text - '0');
        part /= 10u;
    }
    *time_us = us;
    return text[0] == ')' && text[1] == ' ' ? text + 2 : NULL;
}

/* A level with its sign, cut to what a level can be. */
static bool read_level(const char *text, int32_t *level)
{
    const bool negative = *text == '-';
    int64_t value = 0;

    if (negative) {
        text++;
    }
    if (*text == '\0') {
        return false;
    }
    for (; *text >= '0' && *text <= '9'; text++) {
        value = value * 10 + (*text - '0');
        if (value > INT32_MAX) {
            value = INT32_MAX;
        }
    }
    *level = (int32_t)(negative ? -value : value);
    return *text == '\0';
}

static bool take_frame(const char *name, const char *text, uint64_t time_us)
{
    uint8_t data[64];
    uint8_t length = 0u;
    uint8_t bus = 0u;
    uint32_t id = 0u;
    unsigned digits = 0u;

    for (; digit_of(*text) >= 0 && digits < 9u; text++, digits++) {
        id = (id << 4) | (uint32_t)digit_of(*text);
    }
    if ((digits != 3u && digits != 8u) || *text++ != '#') {
        return false;
    }
    if (*text == '#') {
        text++;
        if (digit_of(*text++) < 0) {
            return false;
        }
    } else if (*text == 'R' || *text == 'r') {
        return true; /* asks for a frame, carries none */
    }
    for (; *text != '\0'; text += 2) {
        if (length == 64u || digit_of(text[0]) < 0 || digit_of(text[1]) < 0) {
            return false;
        }
        data[length++] = (uint8_t)(digit_of(text[0]) * 16 + digit_of(text[1]));
    }
    pass(time_us, false);
    if (number_of(other_names, other_count, name, &bus) || number_of(running->buses, running->bus_count, name, &bus)) {
        running->on_frame(bus, id, digits == 8u, data, length, now);
    }
    return true;
}

static bool take_wire(char *text, uint64_t time_us)
{
    char *const space = strchr(text, ' ');
    uint8_t pin = 0u;
    int32_t level = 0;

    if (space == NULL) {
        return false;
    }
    *space = '\0';
    if (!read_level(space + 1, &level)) {
        return false;
    }
    pass(time_us, false);
    if (number_of(running->pins_in, running->pin_in_count, text, &pin)) {
        running->on_pin(pin, level, now);
    }
    return true;
}

static bool take_line(char *line)
{
    uint64_t time_us = 0u;
    const char *const rest = read_time(line, &time_us);
    char *text;
    char *space;

    if (rest == NULL) {
        return false;
    }
    text = line + (rest - line);
    if (strcmp(text, "power") == 0) {
        power(time_us);
        return true;
    }
    if (strcmp(text, "advance") == 0) {
        pass(time_us, true);
        return true;
    }
    if (strncmp(text, "wire ", 5u) == 0) {
        return take_wire(text + 5, time_us);
    }
    space = strchr(text, ' ');
    if (space == NULL) {
        return false;
    }
    *space = '\0';
    return take_frame(text, space + 1, time_us);
}

/* "can0=BUS": the log calls the bus can0. */
static bool take_other_name(char *text)
{
    char *const equals = strchr(text, '=');

    if (equals == NULL || equals == text || other_count == MOST_OTHER_NAMES) {
        return false;
    }
    *equals = '\0';
    other_names[other_count].name = text;
    if (!number_of(running->buses, running->bus_count, equals + 1, &other_names[other_count].number)) {
        *equals = '=';
        return false;
    }
    other_count++;
    return true;
}

int xlc_harness_main(const xlc_module *module, int argc, char **argv)
{
    int i;

    running = module;
    other_count = 0u;
    for (i = 1; i < argc; i++) {
        if (!take_other_name(argv[i])) {
            size_t k;

            (void)fprintf(stderr, "%s: write NAME=BUS; the buses are", argv[i]);
            for (k = 0u; k < module->bus_count; k++) {
                (void)fprintf(stderr, " %s", module->buses[k].name);
            }
            (void)fputc('\n', stderr);
            return 2;
        }
    }
    return xlc_harness_run(module, stdin, stdout) == 0u ? 0 : 1;
}

unsigned long xlc_harness_run(const xlc_module *module, FILE *in, FILE *out)
{
    char line[512];
    unsigned long number = 0u;
    unsigned long wrong = 0u;

    running = module;
    output = out;
    powered = false;
    while (fgets(line, (int)sizeof line, in) != NULL) {
        size_t length = strlen(line);
        bool whole = length > 0u && line[length - 1u] == '\n';

        number++;
        if (!whole && length == sizeof line - 1u) {
            int letter = fgetc(in);

            whole = letter == EOF;
            while (letter != EOF && letter != '\n') {
                letter = fgetc(in);
            }
        } else {
            whole = true;
        }
        while (length > 0u && (line[length - 1u] == '\n' || line[length - 1u] == '\r' || line[length - 1u] == ' ')) {
            line[--length] = '\0';
        }
        if (length == 0u || line[0] == '#') {
            continue;
        }
        if (!whole || !take_line(line)) {
            wrong++;
            (void)fprintf(stderr, "line %lu cannot be read\n", number);
        }
    }
    return wrong;
}
`;
