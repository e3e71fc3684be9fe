/* Addresses of this machine, by IPv4 and IPv6, as people write them and as they stand in the address of a page. */
#ifndef LINTEL_WEB_ADDRESS_H
#define LINTEL_WEB_ADDRESS_H

#include <netinet/in.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <sys/socket.h>

enum { ADDRESS_NAME_MOST = INET6_ADDRSTRLEN + 2 };

/** An address of either kind and its port. */
union address {
    struct sockaddr any;
    struct sockaddr_in four;
    struct sockaddr_in6 six;
};

/** "192.168.1.20" or "fd00::20"; no name, no zone behind a "%". False: it is none. */
bool address_read(const char *word, uint16_t port, union address *ret_address);

uint16_t address_port(const union address *address);

/** Whether nobody but this machine can reach it: 127.0.0.0/8 (RFC 1122, 3.2.1.3) and ::1 (RFC 4291, 2.5.3). */
bool address_is_inside(const union address *address);

/** As the host of a web address: by IPv6 in brackets (RFC 3986, 3.2.2), and as short as it can be (RFC 5952).
 *  bytes: 4 or 16, as length says. False: it is neither, and ret_name is empty. */
bool address_name(const void *bytes, size_t length, char ret_name[static ADDRESS_NAME_MOST]);

/** The same of an address. */
void address_host(const union address *address, char ret_name[static ADDRESS_NAME_MOST]);

#endif
