// Files and standard streams of the native program.
#include "cli/console.h"

#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <memory>

namespace cli {
namespace {

constexpr std::size_t k_block = 1u << 16u;

bool is_terminal(std::FILE* stream) { return isatty(fileno(stream)) != 0; }

struct CloseFile {
  void operator()(std::FILE* file) const { std::fclose(file); }
};
using OpenFile = std::unique_ptr<std::FILE, CloseFile>;

base::Result<std::string> read_all(std::FILE* file, const std::string& name,
                                   std::size_t most_bytes) {
  std::string bytes;
  std::string block(k_block, '\0');
  while (true) {
    const std::size_t got = std::fread(block.data(), 1, block.size(), file);
    if (bytes.size() + got > most_bytes) {
      return base::Problem{name, fmt::format("more than {} bytes", most_bytes),
                           fmt::format("a file of at most {} MB", most_bytes / 1'000'000)};
    }
    bytes.append(block, 0, got);
    if (got < block.size()) break;
  }
  if (std::ferror(file) != 0) return base::Problem{name, std::strerror(errno), "a readable file"};
  return bytes;
}

bool put(std::FILE* file, const std::string& bytes) {
  return std::fwrite(bytes.data(), 1, bytes.size(), file) == bytes.size() && std::fflush(file) == 0;
}

void put_line(std::FILE* file, const std::string& line) { put(file, line + "\n"); }

base::Problem cannot_write(const std::string& path) {
  return {path, std::strerror(errno), "a place that can be written"};
}

}  // namespace

base::Result<std::string> read_input(const Console& console, const std::string& path,
                                     std::size_t most_bytes) {
  if (path == "-") return read_all(console.in, "standard input", most_bytes);
  std::error_code ignored;
  if (std::filesystem::is_directory(path, ignored)) {
    return base::Problem{path, "a folder", "a file"};
  }
  const OpenFile file(std::fopen(path.c_str(), "rb"));
  if (!file) return base::Problem{path, std::strerror(errno), "a file that can be read"};
  return read_all(file.get(), path, most_bytes);
}

base::Result<base::Done> write_whole(const std::string& path, const std::string& bytes) {
  namespace fs = std::filesystem;
  std::error_code none;
  const fs::file_status old = fs::status(path, none);
  // Write straight into what is no plain file (a pipe, a terminal): it cannot be renamed over.
  if (fs::exists(old) && !fs::is_regular_file(old)) {
    const OpenFile file(fs::is_directory(old) ? nullptr : std::fopen(path.c_str(), "wb"));
    if (!file || !put(file.get(), bytes)) {
      return base::Problem{path, fs::is_directory(old) ? "a folder" : std::strerror(errno),
                           "a file that can be written"};
    }
    return base::Done{};
  }
  // Follow a link, so that the file it names is replaced and not the link.
  const std::string target = fs::exists(old) ? fs::canonical(path, none).string() : path;
  const std::string temporary = fmt::format("{}.part-{}", target, getpid());
  bool written = false;
  {
    const OpenFile file(std::fopen(temporary.c_str(), "wbx"));
    written = file && put(file.get(), bytes) && fsync(fileno(file.get())) == 0;
    if (!file) return cannot_write(path);
  }
  if (written && fs::exists(old)) fs::permissions(temporary, old.permissions(), none);
  if (!written || std::rename(temporary.c_str(), target.c_str()) != 0) {
    const base::Problem problem = cannot_write(path);
    std::remove(temporary.c_str());
    return problem;
  }
  return base::Done{};
}

base::Result<base::Done> write_out(const Console& console, const std::string& text) {
  if (!put(console.out, text)) {
    return base::Problem{"standard output", std::strerror(errno), "a place that can be written"};
  }
  return base::Done{};
}

int report(const Console& console, const base::Problems& problems) {
  for (const base::Problem& problem : problems) {
    put_line(console.err, "facetwright: " + base::to_line(problem));
  }
  return k_bad_input;
}

void remark(const Console& console, const std::string& line) {
  put_line(console.err, "note: " + line);
}

base::Progress progress_of(const Console& console, const std::string& what) {
  if (!is_terminal(console.err)) return {};
  std::FILE* const err = console.err;
  return {
      .report =
          [err, what](double done) { put(err, fmt::format("\r{} {:3.0f} %", what, 100.0 * done)); },
      .is_cancelled = {}};
}

void end_progress(const Console& console) {
  if (is_terminal(console.err)) put(console.err, "\r\x1b[K");
}

}  // namespace cli
