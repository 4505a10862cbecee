#pragma once

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <stdexcept>
#include <string>
#include <vector>

namespace standfast::tests {

struct ProgramResult {
    int exit_code = -1;  ///< 128 + signal where a signal ended it
    std::string standard_output, standard_error;
};

struct ProgramCall {
    std::vector<std::string> arguments = {};
    std::string folder = "";                    ///< working folder; empty: the current one
    std::vector<std::string> environment = {};  ///< "NAME=value", added to our own
    /// Runs the program under `script` (util-linux), so that both streams are a terminal of this
    /// many columns; everything it shows then lands in standard_output. 0: files.
    int terminal_columns = 0;
};

/// A folder of its own for a test, removed with everything in it at the end.
class TemporaryFolder {
public:
    TemporaryFolder() {
        std::string name =
            (std::filesystem::temp_directory_path() / "standfast-test-XXXXXX").string();
        if (mkdtemp(name.data()) == nullptr) {
            throw std::runtime_error("no temporary folder");
        }
        path_ = name;
    }
    ~TemporaryFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;
    TemporaryFolder(TemporaryFolder&&) = delete;
    TemporaryFolder& operator=(TemporaryFolder&&) = delete;

    const std::string& path() const { return path_; }

    /// Writes a file in it; returns its whole path.
    std::string write(const std::string& name, const std::string& bytes) const {
        const std::string whole = path_ + "/" + name;
        std::filesystem::create_directories(std::filesystem::path(whole).parent_path());
        std::ofstream(whole, std::ios::binary) << bytes;
        return whole;
    }

    std::string read(const std::string& name) const {
        std::ifstream stream(path_ + "/" + name, std::ios::binary);
        return {std::istreambuf_iterator<char>(stream), {}};
    }

    bool has(const std::string& name) const { return std::filesystem::exists(path_ + "/" + name); }

private:
    std::string path_;
};

namespace run_program_detail {

inline std::string quoted_for_shell(const std::string& word) {
    std::string quoted = "'";
    for (const char c : word) {
        quoted += c == '\'' ? std::string("'\\''") : std::string(1, c);
    }
    return quoted + "'";
}

inline std::vector<std::string> command_line(const ProgramCall& call, const std::string& program) {
    std::vector<std::string> words = {program};
    words.insert(words.end(), call.arguments.begin(), call.arguments.end());
    if (call.terminal_columns == 0) {
        return words;
    }
    std::string shell = "stty cols " + std::to_string(call.terminal_columns) + "; exec";
    for (const std::string& word : words) {
        shell += " " + quoted_for_shell(word);
    }
    return {"script", "--quiet", "--return", "--command", shell, "/dev/null"};
}

/// The forked child's part; never returns.
[[noreturn]] inline void become(const ProgramCall& call, const std::vector<std::string>& words,
                                const std::string& out, const std::string& err) {
    for (const std::string& setting : call.environment) {
        const std::size_t equals = setting.find('=');
        setenv(setting.substr(0, equals).c_str(), setting.substr(equals + 1).c_str(), 1);
    }
    const int mode = O_WRONLY | O_CREAT | O_TRUNC;
    dup2(open("/dev/null", O_RDONLY), STDIN_FILENO);
    dup2(open(out.c_str(), mode, 0600), STDOUT_FILENO);
    dup2(open(err.c_str(), mode, 0600), STDERR_FILENO);
    if (!call.folder.empty() && chdir(call.folder.c_str()) != 0) {
        _exit(126);
    }
    std::vector<char*> argv;
    for (const std::string& word : words) {
        argv.push_back(const_cast<char*>(word.c_str()));
    }
    argv.push_back(nullptr);
    execvp(argv.front(), argv.data());
    _exit(127);
}

}  // namespace run_program_detail

/// Runs the program that was built and waits for it.
inline ProgramResult run_program(const ProgramCall& call,
                                 const std::string& program = STANDFAST_PROGRAM) {
    const TemporaryFolder scratch;
    const std::string out = scratch.path() + "/out";
    const std::string err = scratch.path() + "/err";
    const std::vector<std::string> words = run_program_detail::command_line(call, program);
    const pid_t child = fork();
    if (child < 0) {
        throw std::runtime_error("cannot start a process");
    }
    if (child == 0) {
        run_program_detail::become(call, words, out, err);
    }
    int status = 0;
    waitpid(child, &status, 0);
    ProgramResult result;
    result.exit_code = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    result.standard_output = scratch.read("out");
    result.standard_error = scratch.read("err");
    return result;
}

inline ProgramResult run_program(const std::vector<std::string>& arguments) {
    return run_program(ProgramCall{.arguments = arguments});
}

}  // namespace standfast::tests
