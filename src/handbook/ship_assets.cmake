# Writes the texts of assets/ as C++: cmake -D ASSETS=... -D OUT=... -D CHECKLISTS=a;b -D REGIMES=a;b -P ship_assets.cmake
set(source "#include <array>\n\n#include \"handbook/shipped.h\"\n\nnamespace jigtime::handbook {\nnamespace {\n\n")
foreach(kind checklists regimes)
  string(TOUPPER ${kind} upper)
  list(LENGTH ${upper} count)
  string(APPEND source "constexpr std::array<Shipped, ${count}> ${kind}{{\n")
  foreach(name ${${upper}})
    file(READ ${ASSETS}/${kind}/${name}.txt text)
    if(text MATCHES "\\)asset\"")
      message(FATAL_ERROR "${kind}/${name}.txt: )asset\" cannot stand in a shipped text")
    endif()
    string(APPEND source "    {\"${name}\", R\"asset(${text})asset\"},\n")
  endforeach()
  string(APPEND source "}};\n\n")
endforeach()
string(APPEND source "}  // namespace\n\n"
  "std::span<const Shipped> shipped_checklists() { return checklists; }\n"
  "std::span<const Shipped> shipped_regimes() { return regimes; }\n\n}  // namespace jigtime::handbook\n")
file(WRITE ${OUT} "${source}")
