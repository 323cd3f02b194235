# Imported targets of the Debian packages in packages.txt. Modules name jigtime_vendor_* and nothing else.
find_package(PkgConfig REQUIRED)
find_package(Threads REQUIRED)

pkg_check_modules(LIBAV REQUIRED IMPORTED_TARGET
  libavformat>=59 libavcodec>=59 libavutil>=57 libswresample>=4 libswscale>=6)
add_library(jigtime_vendor_libav ALIAS PkgConfig::LIBAV)

pkg_check_modules(EXIF REQUIRED IMPORTED_TARGET libexif>=0.6.24)
add_library(jigtime_vendor_exif ALIAS PkgConfig::EXIF)

pkg_check_modules(FFTW REQUIRED IMPORTED_TARGET fftw3f>=3.3)
add_library(jigtime_vendor_fftw ALIAS PkgConfig::FFTW)

pkg_check_modules(CAIRO REQUIRED IMPORTED_TARGET cairo>=1.16)
add_library(jigtime_vendor_cairo ALIAS PkgConfig::CAIRO)

pkg_check_modules(SOUNDTOUCH REQUIRED IMPORTED_TARGET soundtouch>=2.3)
add_library(jigtime_vendor_soundtouch ALIAS PkgConfig::SOUNDTOUCH)

pkg_check_modules(PANGO REQUIRED IMPORTED_TARGET pangocairo>=1.50 cairo-pdf>=1.16 cairo-svg>=1.16)
add_library(jigtime_vendor_pango ALIAS PkgConfig::PANGO)

pkg_check_modules(SODIUM REQUIRED IMPORTED_TARGET libsodium>=1.0.18)
add_library(jigtime_vendor_sodium ALIAS PkgConfig::SODIUM)

find_package(SQLiteCpp REQUIRED)
find_package(SQLite3 REQUIRED)
add_library(jigtime_vendor_sqlite INTERFACE)
target_link_libraries(jigtime_vendor_sqlite INTERFACE SQLiteCpp SQLite::SQLite3)

find_package(Eigen3 3.4 REQUIRED NO_MODULE)
add_library(jigtime_vendor_eigen ALIAS Eigen3::Eigen)

find_package(date REQUIRED)
add_library(jigtime_vendor_date ALIAS date::date-tz)

find_package(nlohmann_json REQUIRED)
add_library(jigtime_vendor_json ALIAS nlohmann_json::nlohmann_json)

find_package(CLI11 REQUIRED)
add_library(jigtime_vendor_cli11 ALIAS CLI11::CLI11)

pkg_check_modules(IMGUI REQUIRED IMPORTED_TARGET imgui>=1.86)
pkg_check_modules(GLFW REQUIRED IMPORTED_TARGET glfw3>=3.3)
pkg_check_modules(GL REQUIRED IMPORTED_TARGET gl)
add_library(jigtime_vendor_window INTERFACE)
target_link_libraries(jigtime_vendor_window INTERFACE PkgConfig::IMGUI PkgConfig::GLFW PkgConfig::GL)

pkg_check_modules(FONTCONFIG REQUIRED IMPORTED_TARGET fontconfig>=2.13)
add_library(jigtime_vendor_fontconfig ALIAS PkgConfig::FONTCONFIG)

pkg_check_modules(PORTAUDIO REQUIRED IMPORTED_TARGET portaudio-2.0>=19)
add_library(jigtime_vendor_portaudio ALIAS PkgConfig::PORTAUDIO)
