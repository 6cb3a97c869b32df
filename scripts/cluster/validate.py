#!/usr/bin/env python3
"""Holds a Job of Kubernetes to the schema that its project publishes (OpenAPI v3 of
batch/v1), fetched once as a module by Go: python3 scripts/cluster/validate.py FILE

Names that the schema does not know are refused too, as the server does by default.
"""
import json
import os
import subprocess
import sys
import tempfile

import jsonschema
import yaml

MODULE = "k8s.io/kubernetes@v1.32.4"
SCHEMA = "api/openapi-spec/v3/apis__batch__v1_openapi.json"


def fetched():
    """The folder of the module that holds the schema."""
    with tempfile.TemporaryDirectory() as empty:
        told = subprocess.run(["go", "mod", "download", "-json", MODULE], cwd=empty, check=True, capture_output=True, text=True)
    return json.loads(told.stdout)["Dir"]


def close(schema):
    """Lets no object have a property that is not named."""
    if isinstance(schema, dict):
        if "properties" in schema:
            schema.setdefault("additionalProperties", False)
        for part in schema.values():
            close(part)
    elif isinstance(schema, list):
        for part in schema:
            close(part)


with open(os.path.join(fetched(), SCHEMA), encoding="utf-8") as file:
    schema = json.load(file)
close(schema["components"]["schemas"])
schema["$ref"] = "#/components/schemas/io.k8s.api.batch.v1.Job"
with open(sys.argv[1], encoding="utf-8") as file:
    job = yaml.safe_load(file)
check = jsonschema.Draft7Validator(schema)
errors = [f"{list(e.path)}: {e.message}" for e in check.iter_errors(job)]
for error in errors:
    print("WRONG:", error)

# the check itself: a name that is wrong must be seen
job["spec"]["complitions"] = 3
if not any(check.iter_errors(job)):
    sys.exit("WRONG: a name that is not there passes")
if errors:
    sys.exit(1)
print(f"kubernetes: {sys.argv[1]} is a Job of batch/v1 as {MODULE} publishes it")
