#pragma once

#include <cstddef>

// The core as a page's script calls it.

extern "C" {

/// Memory for `size` bytes of an input or a question.
unsigned char* standfast_room(std::size_t size);

/// Gives such memory back.
void standfast_let_go(const unsigned char* room);

/// Takes the input whose bytes these are. @returns null, or why not; stays until the next call
const char* standfast_load(const unsigned char* bytes, std::size_t size);

/// The answer (JSON) to a question (JSON, ends with a zero); stays until the next call.
const char* standfast_answer(const char* question);
}
