# demo   build and serve the demonstration at http://127.0.0.1:8080
#        (start over with: make demo ARGS=--fresh)
# test   everything: format, vet, staticcheck, all tests on both databases
# lint   the same checks without tests, and golangci-lint
# fmt    format the code
# build  the program, as ./drawbar

.PHONY: demo test lint fmt build

# The program is pure Go: it needs no C compiler.
build:
	@echo "Building; the first time takes some minutes."
	CGO_ENABLED=0 go build -trimpath -o drawbar ./cmd/drawbar

demo: build
	./drawbar demo $(ARGS)

test:
	.ci/test

lint:
	go vet ./...
	go tool staticcheck ./...
	go run github.com/golangci/golangci-lint/v2/cmd/golangci-lint@v2.15.0 run

fmt:
	gofmt -w $$(git ls-files --cached --others --exclude-standard '*.go')
