#include "web/seal.h"

#include "host/host.h"
#include "web/address.h"

#include <gnutls/gnutls.h>
#include <gnutls/x509.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

enum { PEM_MOST = 64 * 1024 };

static gnutls_datum_t datum_of(const char *pem) {
    return (gnutls_datum_t){.data = (unsigned char *)pem, .size = (unsigned)strlen(pem)};
}

/* Whether the certificate was made for this private key: both have the same public half. */
static bool belong_together(gnutls_x509_crt_t certificate, const char *private_key) {
    unsigned char of_key[64];
    unsigned char of_certificate[64];
    size_t key_length = sizeof of_key;
    size_t certificate_length = sizeof of_certificate;
    gnutls_x509_privkey_t key = NULL;
    const gnutls_datum_t pem = datum_of(private_key);
    if (gnutls_x509_privkey_init(&key) != GNUTLS_E_SUCCESS) {
        return false;
    }
    const bool same = gnutls_x509_privkey_import2(key, &pem, GNUTLS_X509_FMT_PEM, NULL,
                              GNUTLS_PKCS_PLAIN) == GNUTLS_E_SUCCESS &&
            gnutls_x509_privkey_get_key_id(key, 0, of_key, &key_length) == GNUTLS_E_SUCCESS &&
            gnutls_x509_crt_get_key_id(certificate, 0, of_certificate, &certificate_length) ==
                    GNUTLS_E_SUCCESS &&
            key_length == certificate_length && memcmp(of_key, of_certificate, key_length) == 0;
    gnutls_x509_privkey_deinit(key);
    return same;
}

/* A name as a browser asks for it, or empty: a pattern, or none that one can ask for. */
static struct text name_of(
        struct arena *arena, unsigned type, const unsigned char *bytes, size_t length) {
    char name[DOOR_NAME_MOST + 1] = "";
    if (type == GNUTLS_SAN_IPADDRESS) {
        return address_name(bytes, length, name) ? text_copy(arena, text_of(name))
                                                 : (struct text){0};
    }
    if (type != GNUTLS_SAN_DNSNAME || length > DOOR_NAME_MOST) {
        return (struct text){0};
    }
    for (size_t i = 0; i < length; i++) {
        const char byte = (char)bytes[i];
        const bool upper = byte >= 'A' && byte <= 'Z';
        if (!upper && !(byte >= 'a' && byte <= 'z') && !(byte >= '0' && byte <= '9') &&
                byte != '-' && byte != '.') {
            return (struct text){0};
        }
        name[i] = (char)(upper ? byte - 'A' + 'a' : byte);
    }
    return text_copy(arena, text_of(name));
}

static void find_names(gnutls_x509_crt_t certificate, struct arena *arena, struct seal *seal) {
    for (unsigned i = 0; seal->name_count < DOOR_NAMES_MOST; i++) {
        unsigned char bytes[512];
        size_t length = sizeof bytes;
        unsigned type = 0;
        const int got =
                gnutls_x509_crt_get_subject_alt_name2(certificate, i, bytes, &length, &type, NULL);
        if (got == GNUTLS_E_REQUESTED_DATA_NOT_AVAILABLE) {
            return;
        }
        const struct text name = got < 0 ? (struct text){0} : name_of(arena, type, bytes, length);
        if (name.length > 0) {
            seal->names[seal->name_count++] = name;
        }
    }
}

static void day_of(time_t moment, char ret_day[16]) {
    struct tm day = {0};
    (void)gmtime_r(&moment, &day);
    if (strftime(ret_day, 16, "%Y-%m-%d", &day) == 0) {
        ret_day[0] = '\0';
    }
}

static outcome look_at(gnutls_x509_crt_t certificate, const char *path, const char *key_path,
        struct arena *arena, struct seal *seal, struct problem *ret_problem) {
    const gnutls_datum_t pem = datum_of(seal->certificate);
    const time_t now = time(NULL);
    char day[16];
    if (gnutls_x509_crt_import(certificate, &pem, GNUTLS_X509_FMT_PEM) != GNUTLS_E_SUCCESS) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, path,
                "%s holds no certificate in PEM, the form that begins with -----BEGIN CERTIFICATE",
                path);
    }
    if (!belong_together(certificate, seal->private_key)) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, key_path,
                "%s is not the private key of %s, or no plain one in PEM", key_path, path);
    }
    if (gnutls_x509_crt_get_expiration_time(certificate) < now) {
        day_of(gnutls_x509_crt_get_expiration_time(certificate), day);
        FAIL(ret_problem, PROBLEM_BAD_VALUE, path,
                "%s was valid up to %s: browsers refuse it; have a new one made", path, day);
    }
    if (gnutls_x509_crt_get_activation_time(certificate) > now) {
        day_of(gnutls_x509_crt_get_activation_time(certificate), day);
        FAIL(ret_problem, PROBLEM_BAD_VALUE, path,
                "%s is valid from %s: browsers refuse it until then; is the clock of this machine "
                "right?",
                path, day);
    }
    find_names(certificate, arena, seal);
    if (seal->name_count == 0) {
        FAIL(ret_problem, PROBLEM_BAD_VALUE, path,
                "%s names no machine and no address (its subject's alternative names): have "
                "it made for the name by which the browser asks",
                path);
    }
    return outcome_good();
}

outcome seal_read(const char *certificate_path, const char *private_key_path, struct arena *arena,
        struct seal *ret_seal, struct problem *ret_problem) {
    struct seal seal = {0};
    struct text certificate = {0};
    struct text key = {0};
    gnutls_x509_crt_t read = NULL;
    TRY(host_read_file(certificate_path, PEM_MOST, arena, &certificate, ret_problem));
    TRY(host_read_private_file(private_key_path, PEM_MOST, arena, &key, ret_problem));
    seal.certificate = certificate.start;
    seal.private_key = key.start;
    if (gnutls_x509_crt_init(&read) != GNUTLS_E_SUCCESS) {
        FAIL(ret_problem, PROBLEM_MEMORY, "", "there is no memory left to read a certificate");
    }
    const outcome good =
            look_at(read, certificate_path, private_key_path, arena, &seal, ret_problem);
    gnutls_x509_crt_deinit(read);
    TRY(good);
    *ret_seal = seal;
    return outcome_good();
}
