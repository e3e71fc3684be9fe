#include "web/address.h"

#include <arpa/inet.h>
#include <stdio.h>

bool address_read(const char *word, uint16_t port, union address *ret_address) {
    union address address = {.four = {.sin_family = AF_INET, .sin_port = htons(port)}};
    if (inet_pton(AF_INET, word, &address.four.sin_addr) == 1) {
        *ret_address = address;
        return true;
    }
    address = (union address){.six = {.sin6_family = AF_INET6, .sin6_port = htons(port)}};
    if (inet_pton(AF_INET6, word, &address.six.sin6_addr) == 1) {
        *ret_address = address;
        return true;
    }
    return false;
}

uint16_t address_port(const union address *address) {
    return ntohs(
            address->any.sa_family == AF_INET6 ? address->six.sin6_port : address->four.sin_port);
}

bool address_is_inside(const union address *address) {
    return address->any.sa_family == AF_INET6 ? IN6_IS_ADDR_LOOPBACK(&address->six.sin6_addr)
                                              : ntohl(address->four.sin_addr.s_addr) >> 24 == 127;
}

bool address_name(const void *bytes, size_t length, char ret_name[static ADDRESS_NAME_MOST]) {
    char name[INET6_ADDRSTRLEN] = "";
    const bool six = length == sizeof(struct in6_addr);
    const bool known = (six || length == sizeof(struct in_addr)) &&
            inet_ntop(six ? AF_INET6 : AF_INET, bytes, name, sizeof name) != NULL;
    (void)snprintf(ret_name, ADDRESS_NAME_MOST, known && six ? "[%s]" : "%s", name);
    return known;
}

void address_host(const union address *address, char ret_name[static ADDRESS_NAME_MOST]) {
    const bool six = address->any.sa_family == AF_INET6;
    const void *bytes =
            six ? (const void *)&address->six.sin6_addr : (const void *)&address->four.sin_addr;
    (void)address_name(
            bytes, six ? sizeof address->six.sin6_addr : sizeof address->four.sin_addr, ret_name);
}
