# SPDX-License-Identifier: MIT
# For the test scripts: documents against their schemas in docs/schemas, by python3-jsonschema.

# judge SCHEMA: reads a document a line; says how many hold, and what is wrong with the others
judge() {
    /usr/bin/python3 -c '
import json, sys
from jsonschema import Draft7Validator as Validator
schema = json.load(open("docs/schemas/%s.json" % sys.argv[1]))
Validator.check_schema(schema)
held = 0
for line in sys.stdin:
    wrong = [e.message[:200] for e in Validator(schema).iter_errors(json.loads(line))]
    held += not wrong
    for message in wrong:
        print(message)
print(held, "hold")' "$1"
}
