module doorwright

go 1.26

require (
	github.com/alecthomas/kong v1.17.0 // indirect
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3 // indirect
	go.yaml.in/yaml/v3 v3.0.6 // indirect
	golang.org/x/text v0.14.0 // indirect
	pgregory.net/rapid v1.3.0 // indirect
)
