import { expose } from 'comlink';
import { newDesk } from './desk.ts';

expose(newDesk());
