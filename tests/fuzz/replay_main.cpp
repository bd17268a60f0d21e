/// Runs a fuzz target over kept files, without a fuzzer: `fuzz_network_replay FILE-OR-FOLDER ...`. Prints how many were replayed; a target that
/// breaks its promise ends the program.

#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <vector>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace {

void replay(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  const std::vector<char> bytes{std::istreambuf_iterator<char>(file), {}};
  std::fprintf(stderr, "%s\n", path.c_str());  // the last one named is the one that broke it
  LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
}

}  // namespace

int main(int count, char** words) {
  std::vector<std::filesystem::path> paths;
  for (int i = 1; i < count; ++i) {
    const std::filesystem::path path = words[i];
    if (std::filesystem::is_directory(path))
      for (const auto& entry : std::filesystem::directory_iterator(path)) paths.push_back(entry.path());
    else
      paths.push_back(path);
  }
  std::sort(paths.begin(), paths.end());
  for (const auto& path : paths) replay(path);
  std::printf("replayed %zu\n", paths.size());
  return paths.empty() ? 1 : 0;
}
