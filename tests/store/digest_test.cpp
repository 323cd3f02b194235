#include <doctest/doctest.h>

#include "store/store.h"

using jigtime::store::sha256_hex;

// The two examples of one and two blocks that NIST publishes with FIPS 180-4; the empty text from memory.
TEST_CASE("the digest is SHA-256") {
  CHECK(sha256_hex("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(sha256_hex("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  CHECK(sha256_hex("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

TEST_CASE("a zero byte in the text is under the digest") { CHECK(sha256_hex({"a\0b", 3}) != sha256_hex("a")); }
