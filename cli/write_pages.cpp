// Writes the manual page and the completions for a package: write_pages FOLDER VERSION DATE.
#include <exception>
#include <filesystem>
#include <iostream>
#include <string>
#include <vector>

#include "cli/commands/command_line_pages.hpp"
#include "cli/files/safe_file.hpp"

int main(int argc, char** argv) {
    const std::vector<std::string> arguments(argv + 1, argv + argc);
    if (arguments.size() != 3) {
        std::cerr << "usage: write_pages FOLDER VERSION DATE\n";
        return 2;
    }
    try {
        const std::filesystem::path folder = arguments[0];
        std::filesystem::create_directories(folder);
        standfast::write_file(folder / "standfast.1",
                              standfast::manual_page(arguments[1], arguments[2]));
        standfast::write_file(folder / "standfast.bash", standfast::bash_completion());
        standfast::write_file(folder / "_standfast", standfast::zsh_completion());
        standfast::write_file(folder / "standfast.fish", standfast::fish_completion());
    } catch (const std::exception& error) {
        std::cerr << error.what() << "\n";
        return 1;
    }
    return 0;
}
