# Thin: what a person types. The build itself is meson.build.
.PHONY: demo test test-long bench fuzz install clean

demo:
	@tools/need build
	@tools/demo

test:
	@tools/need build test
	@tools/test

test-long:
	@tools/need build test
	@tools/test --long

# Prints figures, never fails a test.
bench:
	@tools/need build bench
	@tools/bench

# Without end: stop it with Ctrl-C. TARGET=name for one target only.
fuzz:
	@tools/need build fuzz
	@tools/fuzz $(TARGET)

install:
	@tools/need build
	@tools/build build/release --buildtype=release
	meson install -C build/release

clean:
	rm -rf build
