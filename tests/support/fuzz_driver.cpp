// Runs a fuzz program without a coverage-guided engine: the seed files, every prefix of them, and
// seeded mutations. The same inputs on every machine, so that a failure comes again: fuzz_NAME
// [MUTATIONS] [SEED].
#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <random>
#include <string>
#include <vector>

#include "support/paths.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size);

namespace {

using Bytes = std::string;

constexpr std::size_t k_largest_seed = 200'000;
constexpr std::size_t k_most_prefixes =
    400;  // of one seed; longer seeds are cut at evenly spread places

// What readers stumble over: extremes of numbers, half a character, deep nesting.
const char* const k_awkward[] = {
    "1e99", "-1e999",       "NaN",  "Infinity", "1e-320", "-0", "9223372036854775808",
    "null", "\xEF\xBB\xBF", "\xC3", "[[[[[[[[", "{\"\":", ";",  "1,5",
    "\r\n", "\"\\u0000\"",  "\\",   ""};

/// Written before each input, so that a crash leaves what caused it.
Bytes current;

void run(const Bytes& input) {
  current = input;
  LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(input.data()), input.size());
}

std::vector<Bytes> read_seeds() {
  std::vector<Bytes> seeds{Bytes(), Bytes("{}"), Bytes("facet,right_mm,up_mm\nA1,1,2\n")};
  for (const char* folder : {"assets", "tests/fixtures"})
    for (const std::string& path : support::files_below(folder)) {
      Bytes bytes = support::read_whole_file(path);
      if (bytes.size() <= k_largest_seed) seeds.push_back(std::move(bytes));
    }
  return seeds;
}

void run_prefixes(const Bytes& seed) {
  const std::size_t step = std::max<std::size_t>(1, seed.size() / k_most_prefixes);
  for (std::size_t length = 0; length < seed.size(); length += step) run(seed.substr(0, length));
  run(seed);
}

/// The engine's own numbers are the same everywhere; the library's distributions are not, so they
/// are not used.
std::size_t below(std::mt19937_64& random, std::size_t limit) {
  return limit == 0 ? 0 : static_cast<std::size_t>(random() % limit);
}

Bytes mutated(const std::vector<Bytes>& seeds, std::mt19937_64& random) {
  Bytes input = seeds[below(random, seeds.size())];
  const std::size_t changes = 1 + below(random, 4);
  for (std::size_t change = 0; change < changes; ++change) {
    const std::size_t at = below(random, input.size() + 1);
    switch (below(random, 5)) {
      case 0:  // another byte
        if (at < input.size()) input[at] = static_cast<char>(random());
        break;
      case 1:  // a piece gone
        input.erase(at, below(random, 40));
        break;
      case 2:  // a piece twice
        input.insert(at, input.substr(at, below(random, 40)));
        break;
      case 3:  // a piece of another seed
      {
        const Bytes& other = seeds[below(random, seeds.size())];
        input.insert(at, other.substr(below(random, other.size()), below(random, 200)));
        break;
      }
      default: {  // something awkward in place of what was there
        const char* awkward = k_awkward[below(random, sizeof k_awkward / sizeof k_awkward[0])];
        input.replace(at, below(random, 12), awkward);
      }
    }
  }
  return input;
}

}  // namespace

#if defined(__SANITIZE_ADDRESS__)
extern "C" void __sanitizer_set_death_callback(void (*callback)());
#endif

namespace {

void leave_input() {
  std::FILE* file = std::fopen("crash-input", "wb");
  if (file == nullptr) return;
  std::fwrite(current.data(), 1, current.size(), file);
  std::fclose(file);
  std::fprintf(stderr, "the input (%zu bytes) is in crash-input\n", current.size());
}

}  // namespace

int main(int argc, char** argv) {
#if defined(__SANITIZE_ADDRESS__)
  __sanitizer_set_death_callback(leave_input);
#else
  (void)leave_input;
#endif
  const long mutations = argc > 1 ? std::atol(argv[1]) : 2000;
  const std::uint64_t seed = argc > 2 ? std::strtoull(argv[2], nullptr, 10) : 1;
  const std::vector<Bytes> seeds = read_seeds();
  for (const Bytes& each : seeds) run_prefixes(each);
  std::mt19937_64 random(seed);
  for (long count = 0; count < mutations; ++count) run(mutated(seeds, random));
  std::printf("%zu seeds with their prefixes and %ld mutations (seed %llu) held\n", seeds.size(),
              mutations, static_cast<unsigned long long>(seed));
  return 0;
}
