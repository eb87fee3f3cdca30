/*
 * A Modbus TCP server that this project did not write: libmodbus. Prints its port, serves until it is ended.
 * First argument: microseconds that it thinks before each answer; none where nothing is said.
 */
#include <arpa/inet.h>
#include <modbus/modbus.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/socket.h>
#include <unistd.h>

int main(int count, char **words) {
  useconds_t thinks = count > 1 ? (useconds_t)atoi(words[1]) : 0;
  modbus_t *context = modbus_new_tcp("127.0.0.1", 0);
  modbus_mapping_t *map = modbus_mapping_new(64, 64, 600, 64);
  struct sockaddr_in place;
  socklen_t length = sizeof place;
  int listener, index;
  uint8_t question[MODBUS_TCP_MAX_ADU_LENGTH];

  if (context == NULL || map == NULL) return 1;
  for (index = 0; index < 600; index += 1) map->tab_registers[index] = (uint16_t)(1000 + index);
  for (index = 0; index < 64; index += 1) map->tab_input_registers[index] = (uint16_t)(2000 + index);
  for (index = 0; index < 64; index += 1) map->tab_bits[index] = index % 3 == 0;
  for (index = 0; index < 64; index += 1) map->tab_input_bits[index] = index % 2 == 0;

  /* Any free port: bound here, handed to the library as a listening socket. */
  listener = socket(AF_INET, SOCK_STREAM, 0);
  place.sin_family = AF_INET;
  place.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  place.sin_port = 0;
  if (bind(listener, (struct sockaddr *)&place, sizeof place) != 0 || listen(listener, 4) != 0) return 1;
  getsockname(listener, (struct sockaddr *)&place, &length);
  printf("%d\n", ntohs(place.sin_port));
  fflush(stdout);

  for (;;) {
    int socket_of_client = accept(listener, NULL, NULL);
    if (socket_of_client < 0) return 1;
    modbus_set_socket(context, socket_of_client);
    for (;;) {
      int got = modbus_receive(context, question);
      if (got < 0) break;
      if (got > 0 && thinks > 0) usleep(thinks);
      if (got > 0) modbus_reply(context, question, got, map);
    }
    close(socket_of_client);
  }
}
