#include "media/libav/error.h"

#include <doctest/doctest.h>

#include <cerrno>
#include <string>

#include "media/libav/handles.h"

using namespace jigtime;
using namespace jigtime::media;

TEST_CASE("a failure's code says what the builder can do about it") {
  CHECK(from_errno(ENOENT, "x").code() == Code::not_found);
  CHECK(from_errno(EACCES, "x").code() == Code::denied);
  CHECK(from_errno(EPERM, "x").code() == Code::denied);
  CHECK(from_errno(EROFS, "x").code() == Code::denied);
  CHECK(from_errno(ENOSPC, "x").code() == Code::no_space);
  CHECK(from_errno(EDQUOT, "x").code() == Code::no_space);
  CHECK(from_errno(ETXTBSY, "x").code() == Code::busy);
  CHECK(from_errno(EIO, "x").code() == Code::unreadable);
  CHECK(from_libav(AVERROR_EXIT, "x").code() == Code::cancelled);
  CHECK(from_libav(AVERROR_DECODER_NOT_FOUND, "x").code() == Code::unsupported);
  CHECK(from_libav(AVERROR_PATCHWELCOME, "x").code() == Code::unsupported);
  CHECK(from_libav(AVERROR_INVALIDDATA, "x").code() == Code::unreadable);
  CHECK(from_libav(AVERROR(ENOMEM), "x").code() == Code::internal);
}

TEST_CASE("while writing, what has no better reason is our mistake and not a damaged card") {
  CHECK(from_libav(AVERROR_INVALIDDATA, "x", Deed::writing).code() == Code::internal);
  CHECK(from_libav(AVERROR(ENOSPC), "x", Deed::writing).code() == Code::no_space);
  CHECK(from_libav(AVERROR(ENOSPC), "x", Deed::writing).message().find("Free some space") != std::string::npos);
  CHECK(from_libav(AVERROR_INVALIDDATA, "x", Deed::writing).message().find("card") == std::string::npos);
}

TEST_CASE("the message names the failure, the reason and the next step") {
  const std::string denied = from_errno(EACCES, "\"a.mp4\" cannot be opened").message();
  CHECK(denied.find("\"a.mp4\" cannot be opened (Permission denied).") == 0);
  CHECK(denied.find("Check who may read") != std::string::npos);
  CHECK(from_libav(AVERROR_INVALIDDATA, "\"a.mp4\" is damaged").message().find("Copy it again") != std::string::npos);
}

TEST_CASE("libav's complaints are kept for the message and not printed") {
  quieten_libav();
  forget_complaint();
  av_log(nullptr, AV_LOG_INFO, "chatter\n");
  CHECK(last_complaint().empty());
  av_log(nullptr, AV_LOG_ERROR, "index not found\n");
  CHECK(last_complaint() == "index not found");
  CHECK(from_libav(AVERROR_INVALIDDATA, "x").message().find("index not found") != std::string::npos);
  forget_complaint();
  CHECK(from_libav(AVERROR_INVALIDDATA, "x").message().find("index not found") == std::string::npos);
}
