#pragma once
/// Reads a comma-separated file with a header line for the tests: quoted fields, doubled quotes, LF or CRLF.
/// Fails loudly: a missing file, a missing column or a field that is not a number throws.

#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#ifndef FLARENUT_TEST_DATA
#error "define FLARENUT_TEST_DATA as the path of tests/data, a string"
#endif

namespace csv {

class Row {
 public:
  Row(std::map<std::string, std::string> fields, std::string place)
      : fields_(std::move(fields)), place_(std::move(place)) {}

  const std::string& text(const std::string& column) const {
    const auto found = fields_.find(column);
    if (found == fields_.end()) throw std::runtime_error(place_ + ": no column '" + column + "'");
    return found->second;
  }
  bool empty(const std::string& column) const { return text(column).empty(); }
  double number(const std::string& column) const {
    const std::string& field = text(column);
    std::size_t used = 0;
    double value = 0.0;
    try {
      value = std::stod(field, &used);
    } catch (const std::exception&) {
      used = 0;
    }
    if (used == 0 || used != field.size()) {
      throw std::runtime_error(place_ + ", column '" + column + "': '" + field + "' is not a number");
    }
    return value;
  }
  /// The number after `name=` in a field such as "D=0.02 m; rho=1000 kg/m3".
  double input(const std::string& column, const std::string& name) const {
    const std::string field = "; " + text(column);
    const auto start = field.find("; " + name + "=");
    if (start == std::string::npos) throw std::runtime_error(place_ + ": no input '" + name + "'");
    return std::stod(field.substr(start + name.size() + 3));
  }
  const std::string& place() const { return place_; }

 private:
  std::map<std::string, std::string> fields_;
  std::string place_;
};

/// All records of the text, each a list of fields.
inline std::vector<std::vector<std::string>> records(const std::string& text) {
  std::vector<std::vector<std::string>> all;
  std::vector<std::string> record;
  std::string field;
  bool quoted = false;
  bool any = false;
  const auto end_record = [&] {
    if (any || !field.empty()) {
      record.push_back(field);
      all.push_back(record);
    }
    record.clear();
    field.clear();
    any = false;
  };
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (quoted) {
      if (c != '"') field += c;
      else if (i + 1 < text.size() && text[i + 1] == '"') field += text[++i];
      else quoted = false;
    } else if (c == '"') {
      quoted = any = true;
    } else if (c == ',') {
      record.push_back(field);
      field.clear();
      any = true;
    } else if (c == '\n') {
      end_record();
    } else if (c != '\r') {
      field += c;
    }
  }
  end_record();
  return all;
}

/// Rows of a file given relative to tests/data.
inline std::vector<Row> read(const std::string& file) {
  std::ifstream stream(std::string(FLARENUT_TEST_DATA) + "/" + file);
  if (!stream) throw std::runtime_error("cannot open test data '" + file + "'");
  std::stringstream buffer;
  buffer << stream.rdbuf();
  const auto all = records(buffer.str());
  if (all.size() < 2) throw std::runtime_error(file + ": no rows");
  std::vector<Row> rows;
  for (std::size_t i = 1; i < all.size(); ++i) {
    const std::string place = file + " record " + std::to_string(i);
    if (all[i].size() != all[0].size()) throw std::runtime_error(place + ": wrong number of fields");
    std::map<std::string, std::string> fields;
    for (std::size_t k = 0; k < all[0].size(); ++k) fields[all[0][k]] = all[i][k];
    rows.emplace_back(std::move(fields), place);
  }
  return rows;
}

}  // namespace csv
