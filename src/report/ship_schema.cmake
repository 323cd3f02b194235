# Writes assets/session.schema.json as C++: cmake -D SCHEMA=... -D OUT=... -P ship_schema.cmake
file(READ ${SCHEMA} text)
if(text MATCHES "\\)asset\"")
  message(FATAL_ERROR "${SCHEMA}: )asset\" cannot stand in a shipped text")
endif()
file(WRITE ${OUT} "#include \"report/formats.h\"\n\nnamespace jigtime::report {\n\n"
  "std::string_view session_schema() { return R\"asset(${text})asset\"; }\n\n}  // namespace jigtime::report\n")
