import { count, number } from './numbers.ts';
import { say, value } from './said.ts';
import type { TroubleTable } from './trouble-words.ts';

/** What the second reader found, in words. */
const second: Record<string, string> = {
  refused: 'that it cannot read it',
  bytes: 'that the bytes do not come back as they were',
  value: 'another value',
  text: 'another text',
  children: 'more or fewer elements',
  content: 'another comment or instruction',
  name: 'another element',
  attributes: 'other attributes',
};

/** Of plans, grafts, values that are set, and the result. */
export const planTroubles = {
  'second-root': () => ({
    title: 'Two documents stand in one file',
    sentence: say`A second outermost element begins here. An XML file has one.`,
    advice: 'Two backups may have been joined. Keep each in a file of its own and open the one you need.',
  }),
  'plan-not-json': ({ reason }) => ({
    title: 'This is not a saved plan',
    sentence: say`A plan is a JSON file, and this is not JSON: ${value(reason)}.`,
    advice: 'Choose the file that “Save the plan” made.',
  }),
  'plan-not-a-plan': () => ({
    title: 'This is not a saved plan',
    sentence: say`It is JSON, but not of a plan: the number ${value('plan')} is missing.`,
    advice: 'Choose the file that “Save the plan” made.',
  }),
  'plan-newer': ({ version, known }) => ({
    title: 'This plan was saved by a newer Carryover',
    sentence: say`It has version ${number(Number(version ?? 0))}; this page knows up to ${number(Number(known ?? 0))}.`,
    advice: 'Open it with the Carryover that saved it.',
  }),
  'plan-entry-unknown': ({ key, entry }) => ({
    title: 'The plan holds an entry that we do not know',
    sentence: say`${value(key)}: ${value(entry)}. It has no effect.`,
    advice: 'It may come from a newer Carryover, or from a slip in an edit by hand.',
  }),
  'plan-path-missing': ({ path }) => ({
    title: 'Nothing to leave out here',
    sentence: say`The plan leaves out ${value(path)}, and this file has no such place.`,
    advice: 'The place may have moved or gone since the plan was made. Tick it again on sheet 3 if it still matters.',
  }),
  'plan-port-missing': ({ port }) => ({
    title: 'This file does not name that port',
    sentence: say`The plan gives ${value(port)} a new name, and nothing in this file names it.`,
    advice: 'Check the port’s name on sheet 2.',
  }),
  'plan-port-doubled': ({ port, from }) => ({
    title: 'Two ports would have one name',
    sentence: say`${value(from)} would all be called ${value(port)}.`,
    advice: 'Give each its own name on sheet 2.',
  }),
  'plan-root-left-out': () => ({
    title: 'The whole file cannot be left out',
    sentence: say`The plan leaves out the outermost element.`,
    advice: 'Leave out sections or records instead.',
  }),
  'plan-role-missing': ({ path }) => ({
    title: 'No network role stands here',
    sentence: say`The plan moves the role at ${value(path)}, and this file has none there.`,
    advice: 'The role may have moved or gone since the plan was made. Move it again on sheet 2 if it still matters.',
  }),
  'plan-role-no-place': ({ role, what }) => ({
    title: what === 'tag' ? 'This role has no place for a VLAN ID' : 'This role has no place for a port',
    sentence:
      what === 'tag'
        ? say`The record of ${value(role)} has no field for the VLAN ID that other roles have.`
        : say`The record of ${value(role)} has no field that names a port, and we make up none.`,
    advice: 'Assign the role on the new box, or to its present port here, and change it there.',
  }),
  'plan-role-many-ports': ({ role, count: ports }) => ({
    title: 'This role sits on several ports',
    sentence: say`${value(role)} names ${count(Number(ports ?? 0), 'port')}, so it cannot be moved as one.`,
    advice: 'Give the ports new names instead.',
  }),
  'plan-role-is-port': ({ role }) => ({
    title: 'This role is the port itself',
    sentence: say`${value(role)} is written in the record of its own device, so it cannot leave it.`,
    advice: 'Give the port a new name on sheet 2. A tagged device can move to another port or VLAN ID.',
  }),
  'plan-role-on-vlan': ({ role }) => ({
    title: 'This role is on a VLAN with ports of its own',
    sentence: say`${value(role)} names a VLAN, whose own record says on which ports it is, and no VLAN of that number is known to be on that port.`,
    advice: 'Give the port a new name on sheet 2, or change ports and number in the record of the VLAN.',
  }),
  'plan-role-in-text': ({ role }) => ({
    title: 'This port stands in a line of several settings',
    sentence: say`The line that names the port of ${value(role)} holds other settings, and nothing shows how it is written without one.`,
    advice: 'Move the role to another port, or take it off its port on the new box.',
  }),
  'plan-tag-no-record': ({ port, tag }) => ({
    title: 'No pattern for a tagged device',
    sentence: say`Nothing defines VLAN ${tag ?? 0} on ${value(port)}, and the file has no tagged device to write it like.`,
    advice: 'Define one VLAN on the old box and save a new backup, or set this one up on the new box.',
  }),
  'plan-tag-out-of-range': ({ port, tag }) => ({
    title: 'This is no VLAN ID',
    sentence: say`The plan asks for VLAN ${tag ?? 0} on ${value(port)}; VLAN IDs go from 1 to 4094.`,
    advice: 'IEEE 802.1Q keeps 0 and 4095 for itself. Choose another number.',
  }),
  'plan-tag-taken': ({ role, port, tag }) => ({
    title: 'This VLAN ID is taken',
    sentence: say`${value(role)} is to be VLAN ${tag ?? 0} on ${value(port)}, and another tagged device is that already.`,
    advice: 'Choose another VLAN ID or another port.',
  }),
  'plan-port-no-record': ({ port }) => ({
    title: 'This port has no record',
    sentence: say`Roles name a port by the key of its record, and ${value(port)} has none in this file.`,
    advice: 'Choose a port that the file has a record of, and give it its new name on sheet 2.',
  }),
  'plan-keep-missing': ({ path }) => ({
    title: 'Nothing to keep here',
    sentence: say`The plan keeps ${value(path)}, and this file has no such place.`,
    advice: 'The place may have moved or gone since the plan was made. Tick it again on sheet 3 if it still matters.',
  }),
  'plan-value-missing': ({ path }) => ({
    title: 'No value to change here',
    sentence: say`The plan sets the value at ${value(path)}, and this file has no such place.`,
    advice: 'The place may have moved or gone since the plan was made. Set the value again if it still matters.',
  }),
  'plan-value-other': ({ path, was }) => ({
    title: 'Another value stands here',
    sentence: say`The plan changes ${value(was)} at ${value(path)}, and that is not what this file says there.`,
    advice: 'Look at the place, and change it again if it still matters.',
  }),
  'plan-value-crossed': ({ path }) => ({
    title: 'Two changes meet in one value',
    sentence: say`At ${value(path)} two decisions change the same letters.`,
    advice: 'Take one of them back.',
  }),
  'value-holds-elements': ({ path }) => ({
    title: 'This element has no value of its own',
    sentence: say`${value(path)} holds other elements.`,
    advice: 'Change the values inside it.',
  }),
  'value-not-in-text': ({ path, text }) => ({
    title: 'This value does not fit into its line',
    sentence: say`${value(path)} holds several settings in one text, and ${value(text)} would look like more than one of them, or like none.`,
    advice: 'Use a value without blanks and marks, or write the whole text anew.',
  }),
  'value-not-allowed': ({ path }) => ({
    title: 'XML cannot hold this value',
    sentence: say`The new value at ${value(path)} has a control character that no XML file may hold.`,
    advice: 'Type the value again instead of pasting it.',
  }),
  'graft-no-receiver': () => ({
    title: 'The new box’s backup is not open',
    sentence: say`A graft goes into the new box’s own backup, and none is here.`,
    advice: 'Open it on sheet 3, or take the whole file instead.',
  }),
  'graft-nothing-picked': () => ({
    title: 'Nothing is ticked yet',
    sentence: say`A graft takes what you tick, and nothing that is ticked is in this backup.`,
    advice: 'Tick sections or records of the old backup first.',
  }),
  'graft-other-root': ({ donor, receiver }) => ({
    title: 'The new box writes another kind of backup',
    sentence: say`The old backup begins with ${value(donor)}, the new one with ${value(receiver)}, so nothing of one has a place in the other.`,
    advice: 'Take a backup from a box of the same kind, or carry the settings over by hand; the swap sheet lists them.',
  }),
  'graft-other-form': ({ path, percent }) => ({
    title: 'The new backup is written in another form',
    sentence: say`It shares ${number(Number(percent ?? 0))} percent of its form with the old one, so ${value(path)} has no sure place in it.`,
    advice: 'Only whole sections can go over. Pick the section, and check it on the new box before it is in use.',
  }),
  'graft-spread-record': ({ path }) => ({
    title: 'This record cannot be replaced as a whole',
    sentence: say`${value(path)} is written as several lines side by side, and what only the new box has of it cannot be told from the lines of other records.`,
    advice: 'Merge it instead: lines that both boxes have are replaced, the rest is added.',
  }),
  'graft-flat-list': ({ path }) => ({
    title: 'Lines of this list cannot go over one by one',
    sentence: say`${value(path)} is a list whose lines only say together what belongs to what, so single ones have no sure place in another file.`,
    advice: 'Replace the whole section, or set this up on the new box.',
  }),
  'graft-no-key': () => ({
    title: 'No free key was found',
    sentence: say`Every new key that we tried for the clashing records is taken on the new box.`,
    advice: 'Keep or replace the records instead.',
  }),
  'plan-other-file': ({ name }) => ({
    title: 'This plan was made for another file',
    sentence: name ? say`It was made for ${value(name)}.` : say`It was made for a file with another content.`,
    advice: 'What fits this file is used. Go through sheets 2 and 3 before you trust it.',
  }),
  'value-in-two-pieces': () => ({
    title: 'A value is written in pieces',
    sentence: say`A comment or a marked section cuts it in two, so it cannot be changed in one place.`,
    advice: 'Join the value by hand in a copy of the backup, then open that.',
  }),
  'name-not-allowed': ({ name }) => ({
    title: 'XML does not allow this name',
    sentence: say`${value(name)} stands as an element’s own name here, so its letters are limited.`,
    advice: 'Begin with a letter and use letters, digits, dots, hyphens and underscores.',
  }),
  'second-reader-differs': ({ what, path, reason }) => ({
    title: 'The second reader disagrees',
    sentence: say`It read the result again and found ${second[String(what)] ?? 'something that your plan does not say'}${path ? say`, at ${value(path)}` : ''}${reason ? say`: ${value(reason)}` : ''}. It may be our fault.`,
    advice:
      'So that nothing wrong reaches a box, the file stays here. Save the plan, and undo your decisions one by one to find the one.',
  }),
} satisfies Partial<TroubleTable>;
