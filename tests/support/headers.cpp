// The home of the headers that all tests share when they are precompiled.
