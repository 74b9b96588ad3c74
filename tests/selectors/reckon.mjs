// What the phone's own modules answer: {reckonings, questions: [which, kg, °C]} from stdin, answers to stdout.
import { readFileSync } from 'node:fs';
import { readGrid } from '../../frontend/src/reckon/grid.js';

const { reckonings, questions } = JSON.parse(readFileSync(0, 'utf8'));
process.stdout.write(JSON.stringify(questions.map(([which, mass, start]) => readGrid(reckonings[which], mass, start))));
