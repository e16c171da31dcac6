import type { Reading } from './reading.ts';

/**
 * The same reading, written out field by field. Engines give every object that is made by spreading others a hidden shape
 * of its own; what reads it would leave its fast code with each reading that comes.
 */
export function inOneShape(reading: Reading): Reading {
  return {
    sections: reading.sections,
    collections: reading.collections,
    roles: reading.roles,
    ports: reading.ports,
    mentions: reading.mentions,
    remarks: reading.remarks,
    bindings: reading.bindings,
    tagging: reading.tagging,
    deviceKeys: reading.deviceKeys,
    aggregates: reading.aggregates,
    fields: reading.fields,
    references: reading.references,
    dangling: reading.dangling,
    certificates: reading.certificates,
    publicKeys: reading.publicKeys,
    secrets: reading.secrets,
    boxBound: reading.boxBound,
    embedded: reading.embedded,
    outliers: reading.outliers,
    about: reading.about,
    captions: reading.captions,
    values: reading.values,
    standard: reading.standard,
  };
}
