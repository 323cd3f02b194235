#include "support/clip_maker.h"

#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <fstream>
#include <random>
#include <sstream>
#include <stdexcept>

#include "base/picture.h"

namespace jigtime::test {
namespace {

void require(const Done& done) {
  if (!done) throw std::runtime_error{done.error().message()};
}

media::WriterSettings settings_of(const ClipPlan& plan) {
  media::WriterSettings settings;
  settings.container = plan.container;
  settings.creation_time = plan.creation_time;
  if (!plan.picture_codec.empty()) {
    auto& pictures = settings.pictures.emplace();
    pictures.codec = plan.picture_codec;
    pictures.width = plan.width;
    pictures.height = plan.height;
    pictures.rate_num = plan.rate_num;
    pictures.rate_den = plan.rate_den;
    pictures.timecode = plan.timecode;
  }
  if (!plan.sound_codec.empty()) {
    auto& sound = settings.sound.emplace();
    sound.codec = plan.sound_codec;
    sound.channels = plan.channels;
  }
  return settings;
}

Picture picture_of(const ClipPlan& plan, int index, std::minstd_rand& random) {
  Picture picture = Picture::blank(plan.width, plan.height);
  if (index == plan.flash_at) return picture;
  const auto dark = static_cast<std::uint8_t>(index % 40);
  for (std::size_t i = 0; i < picture.rgba.size(); ++i) {
    if (i % 4 != 3) picture.rgba[i] = plan.noise ? static_cast<std::uint8_t>(random() % 100) : dark;
  }
  return picture;
}

/// Rumbling noise: what lies higher AAC does not keep but fills in at random.
std::vector<float> sound_of(const ClipPlan& plan, std::int64_t from, std::int64_t to, std::minstd_rand& random) {
  float level = 0;
  std::vector<float> samples(static_cast<std::size_t>(to - from), 0.0F);
  for (std::int64_t i = from; i < to; ++i) {
    float& sample = samples[static_cast<std::size_t>(i - from)];
    level += (static_cast<float>(random() % 2000) / 2000.0F - 0.5F - level) * 0.15F;
    if (plan.noise) sample = level;
    if (i == plan.click_at) sample = 0.9F;
  }
  return samples;
}

std::string quoted(const std::string& word) {
  std::string text = "'";
  for (const char c : word) text += c == '\'' ? std::string{"'\\''"} : std::string{c};
  return text + "'";
}

}  // namespace

void make_clip(const std::filesystem::path& path, const ClipPlan& plan) {
  Result<media::Writer> writer = media::Writer::open(path, settings_of(plan));
  if (!writer) throw std::runtime_error{writer.error().message()};
  std::minstd_rand random{1};
  const auto sample_at = [&](int picture) {
    return scaled(picture, std::int64_t{48000} * plan.rate_den, plan.rate_num);
  };
  for (int index = 0; index < plan.pictures; ++index) {
    if (!plan.picture_codec.empty()) require(writer->write(picture_of(plan, index, random)));
    if (!plan.sound_codec.empty()) {
      require(writer->write(std::span<const float>{sound_of(plan, sample_at(index), sample_at(index + 1), random)}));
    }
  }
  require(writer->finish());
}

std::string run(const std::vector<std::string>& words) {
  const std::filesystem::path complaints =
      std::filesystem::temp_directory_path() / ("jigtime-stderr-" + std::to_string(getpid()));
  std::string command;
  for (const std::string& word : words) command += quoted(word) + " ";
  FILE* pipe = popen((command + "2>" + quoted(complaints.string()) + " </dev/null").c_str(), "r");
  if (pipe == nullptr) throw std::runtime_error{"cannot run " + command};
  std::string output;
  std::array<char, 65536> buffer{};
  std::size_t got = 0;
  while ((got = fread(buffer.data(), 1, buffer.size(), pipe)) > 0) output.append(buffer.data(), got);
  const int status = pclose(pipe);
  const std::vector<std::uint8_t> said = read_bytes(complaints);
  std::filesystem::remove(complaints);
  if (!WIFEXITED(status) || WEXITSTATUS(status) != 0)
    throw std::runtime_error{command + "failed: " + std::string{said.begin(), said.end()}};
  return output;
}

void ffmpeg(std::vector<std::string> words) {
  words.insert(words.begin(), {"ffmpeg", "-v", "error", "-y"});
  run(words);
}

OutsideTimes ffprobe_times(const std::filesystem::path& path, const std::string& stream) {
  const std::string output = run({"ffprobe", "-v", "quiet", "-select_streams", stream, "-show_frames", "-show_entries",
                                  "frame=best_effort_timestamp_time,pkt_duration_time,nb_samples", "-show_entries",
                                  "stream=sample_rate", "-of", "flat", path.string()});
  constexpr double unknown = -1e9;
  const auto values = [&](const std::string& name) {
    std::vector<double> found;
    std::istringstream lines{output};
    for (std::string line; std::getline(lines, line);) {
      const std::size_t at = line.find(name + "=\"");
      const std::size_t plain = line.find(name + "=");
      if (plain == std::string::npos) continue;
      const std::string value = line.substr(plain + name.size() + (at == std::string::npos ? 1 : 2));
      found.push_back(value.compare(0, 3, "N/A") == 0 ? unknown : std::stod(value));
    }
    return found;
  };
  const std::vector<double> begins = values("best_effort_timestamp_time");
  const std::vector<double> samples = values("nb_samples");
  if (begins.empty()) throw std::runtime_error{"ffprobe shows no frames of " + path.string()};
  const double last =
      samples.empty() ? values("pkt_duration_time").back() : samples.back() / values("sample_rate").at(0);
  // Pictures without a stamp are the last ones, one behind the other.
  const auto unstamped = static_cast<double>(std::count(begins.begin(), begins.end(), unknown));
  return {begins.front(), *std::max_element(begins.begin(), begins.end()) + last * (1 + unstamped),
          static_cast<int>(begins.size())};
}

void write_wav(const std::filesystem::path& path, const WavShape& shape, const std::vector<std::uint8_t>& samples) {
  std::vector<std::uint8_t> bytes;
  const auto text = [&](const char* word) { bytes.insert(bytes.end(), word, word + 4); };
  const auto number = [&](std::uint32_t value, int count) {
    for (int i = 0; i < count; ++i) bytes.push_back(static_cast<std::uint8_t>(value >> (8 * i)));
  };
  const std::uint32_t frame_bytes = std::uint32_t{shape.channels} * shape.bits / 8;
  text("RIFF");
  number(static_cast<std::uint32_t>(36 + samples.size()), 4);
  text("WAVE");
  text("fmt ");
  number(16, 4);
  number(shape.format, 2);
  number(shape.channels, 2);
  number(shape.rate_hz, 4);
  number(shape.rate_hz * frame_bytes, 4);
  number(frame_bytes, 2);
  number(shape.bits, 2);
  text("data");
  number(static_cast<std::uint32_t>(samples.size()), 4);
  bytes.insert(bytes.end(), samples.begin(), samples.end());
  write_bytes(path, bytes);
}

std::vector<std::uint8_t> read_bytes(const std::filesystem::path& path) {
  std::ifstream file{path, std::ios::binary};
  std::vector<std::uint8_t> bytes(std::filesystem::file_size(path));
  file.read(reinterpret_cast<char*>(bytes.data()), static_cast<std::streamsize>(bytes.size()));
  if (!file) throw std::runtime_error{"cannot read " + path.string()};
  return bytes;
}

void write_bytes(const std::filesystem::path& path, const std::vector<std::uint8_t>& bytes) {
  std::ofstream file{path, std::ios::binary};
  file.write(reinterpret_cast<const char*>(bytes.data()), static_cast<std::streamsize>(bytes.size()));
  if (!file) throw std::runtime_error{"cannot write " + path.string()};
}

}  // namespace jigtime::test
