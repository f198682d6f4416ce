package job

import "doorwright/document"

// Print writes a document as YAML that reads back to the same document. The same document gives the same bytes. It errs
// on text that is not UTF-8.
func Print(d *Document) ([]byte, error) { return document.Print(d) }

//go:generate go test . -run TestSchemaFileIsUpToDate -update

// schemaID names the schema; nothing stands at a place of that name.
const schemaID = "urn:doorwright:job"

// Schema writes the JSON Schema (draft 2020-12) of the documents that Read accepts, as far as a schema can say it: it
// knows keys, forms and closed lists of words, not whether names exist or values agree.
func Schema() ([]byte, error) { return document.Schema(Document{}, "Doorwright job", schemaID) }
