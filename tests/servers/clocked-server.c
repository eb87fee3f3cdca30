/*
 * A Modbus server that this project did not write (libmodbus), whose live words are worked out from the machine's
 * monotonic clock as in truth.ts. Arguments: a file of fixed words ("table address word" a line; tables 0 to 3 as in
 * truth.ts), then `tcp HOST:PORT` (port 0: any free one) or
 * `rtu PATH`. Prints its port, or "ready"; serves until it is ended, and its connections with it.
 */
#include <arpa/inet.h>
#include <modbus/modbus.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/prctl.h>
#include <sys/socket.h>
#include <time.h>
#include <unistd.h>

#define LIVE 200
#define STEPS 264
#define END 300
#define LIVE_BITS 64
#define END_BITS 128

static uint32_t mixed(uint32_t place, uint32_t tick) {
  uint32_t h = place ^ (tick * 0x9e3779b1u);
  h = (h ^ (h >> 16)) * 0x85ebca6bu;
  h = (h ^ (h >> 13)) * 0xc2b2ae35u;
  return h ^ (h >> 16);
}

static uint32_t word_at(uint32_t unit, uint32_t table, uint32_t address, uint32_t tick) {
  return mixed((unit << 24) | (table << 16) | address, tick) & 0xffffu;
}

static void live(modbus_mapping_t *map, uint32_t unit) {
  struct timespec now;
  uint32_t tick, at;
  clock_gettime(CLOCK_MONOTONIC, &now);
  tick = (uint32_t)((uint64_t)now.tv_sec * 1000u + (uint64_t)now.tv_nsec / 1000000u);
  for (at = LIVE; at < STEPS; at += 1) {
    map->tab_registers[at] = (uint16_t)word_at(unit, 2, at, tick);
    map->tab_input_registers[at] = (uint16_t)word_at(unit, 3, at, tick);
  }
  map->tab_registers[STEPS] = map->tab_input_registers[STEPS] = (uint16_t)(tick / 100u);
  for (at = LIVE_BITS; at < END_BITS; at += 1) {
    map->tab_bits[at] = (uint8_t)(word_at(unit, 0, at, tick) & 1u);
    map->tab_input_bits[at] = (uint8_t)(word_at(unit, 1, at, tick) & 1u);
  }
}

static void fixed(modbus_mapping_t *map, const char *path) {
  FILE *file = fopen(path, "r");
  unsigned table, at, word;
  if (file == NULL) exit(1);
  while (fscanf(file, "%u %u %u", &table, &at, &word) == 3) {
    if (table == 0 && at < END_BITS) map->tab_bits[at] = (uint8_t)word;
    if (table == 1 && at < END_BITS) map->tab_input_bits[at] = (uint8_t)word;
    if (table == 2 && at < END) map->tab_registers[at] = (uint16_t)word;
    if (table == 3 && at < END) map->tab_input_registers[at] = (uint16_t)word;
  }
  fclose(file);
}

static void serve(modbus_t *context, modbus_mapping_t *map) {
  uint8_t question[MODBUS_TCP_MAX_ADU_LENGTH];
  int at_unit = modbus_get_header_length(context) - 1;
  for (;;) {
    int got = modbus_receive(context, question);
    if (got < 0) return;
    if (got == 0) continue;
    live(map, question[at_unit]);
    modbus_reply(context, question, got, map);
  }
}

static int serve_line(modbus_mapping_t *map, const char *path) {
  modbus_t *context = modbus_new_rtu(path, 115200, 'N', 8, 1);
  if (context == NULL || modbus_set_slave(context, 1) != 0 || modbus_connect(context) != 0) return 1;
  puts("ready");
  fflush(stdout);
  for (;;) serve(context, map); /* A frame that is not whole is no end of the line. */
}

int main(int count, char **words) {
  modbus_mapping_t *map = modbus_mapping_new(END_BITS, END_BITS, END, END);
  struct sockaddr_in place;
  socklen_t length = sizeof place;
  int listener, yes = 1;
  char *colon;

  if (count != 4 || map == NULL) return 1;
  prctl(PR_SET_PDEATHSIG, SIGKILL);
  fixed(map, words[1]);
  if (strcmp(words[2], "rtu") == 0) return serve_line(map, words[3]);

  colon = strchr(words[3], ':');
  if (colon == NULL) return 1;
  *colon = 0;
  listener = socket(AF_INET, SOCK_STREAM, 0);
  setsockopt(listener, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
  memset(&place, 0, sizeof place);
  place.sin_family = AF_INET;
  place.sin_addr.s_addr = inet_addr(words[3]);
  place.sin_port = htons((uint16_t)atoi(colon + 1));
  if (bind(listener, (struct sockaddr *)&place, sizeof place) != 0 || listen(listener, 16) != 0) return 1;
  getsockname(listener, (struct sockaddr *)&place, &length);
  printf("%d\n", ntohs(place.sin_port));
  fflush(stdout);
  signal(SIGCHLD, SIG_IGN);

  for (;;) {
    int client = accept(listener, NULL, NULL);
    modbus_t *context;
    if (client < 0) return 1;
    if (fork() != 0) {
      close(client);
      continue;
    }
    prctl(PR_SET_PDEATHSIG, SIGKILL);
    close(listener);
    context = modbus_new_tcp("127.0.0.1", 0);
    modbus_set_socket(context, client);
    serve(context, map);
    _exit(0);
  }
}
