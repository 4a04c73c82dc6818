// Holds a Bundle against HL7's own JSON schema of FHIR R4 (as a package carries it) and against a validator that knows the
// cardinalities, types and required value sets of R4's definitions.
//
//   node validate.js BUNDLE.json
//
// Then spoils the bundle in ways that have to be noticed, so that a validator that says yes to everything fails this.
'use strict';
const fs = require('fs');
const Schema = require('@asymmetrik/fhir-json-schema-validator');
const { Fhir } = require('fhir');

const bundle = JSON.parse(fs.readFileSync(process.argv[2], 'utf8'));
const schema = new Schema();
const fhir = new Fhir();
let failed = 0;
let passed = 0;

function check(name, fine, message) {
  if (fine) {
    passed += 1;
  } else {
    failed += 1;
    console.log(`${name}: ${message}`);
  }
}

// The schema as a whole, and each resource by its own definition, which gives errors that name the element.
const whole = schema.validate(bundle, true);
check('bundle, JSON schema', whole.length === 0, JSON.stringify(whole.slice(0, 3)));
const kinds = {};
for (const [place, { resource }] of bundle.entry.entries()) {
  kinds[resource.resourceType] = (kinds[resource.resourceType] || 0) + 1;
  const answer = fhir.validate(resource, { errorOnUnexpected: true });
  const errors = answer.messages.filter((one) => one.severity === 'error' || one.severity === 'fatal');
  check(`entry ${place + 1} (${resource.resourceType})`, errors.length === 0, JSON.stringify(errors.slice(0, 3)));
}

// Every reference leads to a resource of the bundle.
const urls = new Set(bundle.entry.map((entry) => entry.fullUrl));
check('fullUrls', urls.size === bundle.entry.length, 'one comes twice');
for (const { resource } of bundle.entry) {
  for (const reference of [resource.subject, ...(resource.hasMember || [])].filter(Boolean)) {
    check('reference', urls.has(reference.reference), `${reference.reference} leads nowhere`);
  }
}

// Invariants that the JSON schema cannot say: obs-6, obs-7, per-1, and the guide's "a value or the reason for none".
for (const { resource } of bundle.entry.filter((entry) => entry.resource.resourceType === 'Observation')) {
  const values = Object.keys(resource).filter((key) => key.startsWith('value'));
  check('obs-6', !(values.length && resource.dataAbsentReason), resource.id);
  const own = new Set(resource.code.coding.map((coding) => coding.code));
  const same = (resource.component || []).some((part) => part.code.coding.some((coding) => own.has(coding.code)));
  check('obs-7', !(values.length && same), resource.id);
  const period = resource.effectivePeriod;
  check('per-1', !period || Date.parse(period.start) <= Date.parse(period.end), resource.id);
  const profiles = (resource.meta && resource.meta.profile) || [];
  if (profiles.some((name) => name.includes('cgm-sensor-reading'))) {
    check('sensor reading', resource.valueQuantity && resource.subject && resource.effectiveDateTime, resource.id);
  }
  if (profiles.some((name) => name.endsWith('/cgm-summary'))) {
    check('summary', resource.hasMember.length >= 6 && /^\d{4}-\d\d-\d\d$/.test(period.start), resource.id);
  }
}

// What has to be noticed.
const spoilt = [
  // The schema leaves required primitives open, since an extension may stand in for them.
  ['no status', (one) => delete one.status, false],
  ['no code', (one) => delete one.code, true],
  ['a value of text', (one) => { one.valueQuantity = { value: 'much' }; }, true],
  ['an element that R4 does not know', (one) => { one.amount = 1; }, true],
];
const place = bundle.entry.findIndex((entry) => entry.resource.valueQuantity);
for (const [name, spoil, bySchema] of spoilt) {
  const copy = JSON.parse(JSON.stringify(bundle));
  spoil(copy.entry[place].resource);
  check(`spoilt (${name}), JSON schema`, !bySchema || new Schema().validate(copy, true).length > 0, 'not noticed');
  const answer = fhir.validate(copy.entry[place].resource, { errorOnUnexpected: true });
  check(`spoilt (${name}), definitions`, answer.messages.some((one) => one.severity === 'error'), 'not noticed');
}

console.log(Object.entries(kinds).map(([kind, count]) => `${count} ${kind}`).join(', '));
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed ? 1 : 0);
