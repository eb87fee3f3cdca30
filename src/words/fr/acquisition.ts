import type { ACQUISITION as EN } from '../en/acquisition.ts';
import type { Translation } from '../language.ts';

/** What a source tells of itself while it is read. `field-…`: what happened; `next-…`: what a person can try. */
export const ACQUISITION: Translation<typeof EN> = {
  'event-asked': 'Demandé : fonction {function}, {table} {from} à {to}[, {elapsed} ms].',
  'event-tried': 'Tentative {attempt}.',
  'event-affected': 'Non jugé sans cela : {affected}.',
  'field-back': 'Répond de nouveau.',
  'field-silent': 'Aucune réponse en {detail}.',
  'field-connect-timed-out': 'Aucune liaison en {detail}.',
  'field-connect-failed': 'Aucune liaison ({detail}).',
  'field-connection-error': 'La liaison s’est rompue ({detail}).',
  'field-connection-ended': 'L’appareil a fermé la liaison.',
  'field-connection-closed': 'La liaison n’existe plus.',
  'field-connection-lost': 'La liaison est perdue.',
  'field-wrong-transaction':
    'Une réponse à une question qui n’a pas été posée. Elle est rejetée, avec tout ce qui la suit.',
  'field-wrong-protocol': 'Une réponse qui n’est pas du Modbus. Elle est rejetée, avec tout ce qui la suit.',
  'field-wrong-unit': 'Une réponse d’une autre unité. Elle est rejetée, avec tout ce qui la suit.',
  'field-wrong-function': 'Une réponse à une autre fonction. Elle est rejetée, avec tout ce qui la suit.',
  'field-wrong-length':
    'Une réponse d’une autre longueur que demandé. Elle est rejetée, avec tout ce qui la suit.',
  'field-wrong-byte-count':
    'Une réponse dont le nombre d’octets ne convient pas. Elle est rejetée, avec tout ce qui la suit.',
  'field-wrong-checksum':
    'Une réponse avec une somme de contrôle fausse. Elle est rejetée, et la suivante aussi.',
  'field-surplus-bytes': 'Plus d’octets que n’en a la réponse. Ils sont rejetés.',
  'field-unasked-bytes': 'Des octets que personne n’a demandés. Ils sont rejetés.',
  'field-quarantined': 'On ne se fie pas à la première réponse après une perturbation.',
  'field-library': 'La réponse n’a pu être lue ({detail}).',
  'field-function-refused': 'Il ne connaît pas cette fonction (exception {exception}).',
  'field-address-refused':
    'Il refuse cette adresse (exception {exception}) ; la lecture des autres continue.',
  'field-block-unanswered': 'Il ne répond pas à ce bloc en entier ; il est lu par parties.',
  'field-device-busy': 'Il est occupé (exception {exception}) ; il est interrogé plus rarement entre-temps.',
  'field-gateway-without-answer':
    'La passerelle n’a pas de réponse de l’unité (exception {exception}) ; elle est interrogée plus rarement entre-temps.',
  'field-device-refused': 'Il refuse (exception {exception}).',
  'next-lower-max-registers':
    'Mettre « max-registers » de cette source à ce que l’appareil donne en une fois.',
  'next-check-port':
    'Rien n’écoute à cet endroit : vérifier le port, et que le service de l’appareil est activé.',
  'next-check-name':
    'Vérifier l’écriture du nom d’hôte ; une adresse en chiffres n’a pas besoin de serveur de noms.',
  'next-check-path': 'Ce port série n’existe pas : vérifier le chemin et l’adaptateur.',
  'next-check-permission': 'Cet utilisateur ne peut pas ouvrir le port série : l’ajouter à son groupe.',
  'next-check-unit':
    'Vérifier le numéro d’unité ; derrière une passerelle, aussi l’alimentation, la ligne et le débit de l’appareil.',
  'next-check-host': 'Vérifier l’adresse, le câble et le pare-feu.',
  'next-check-other-clients':
    'Beaucoup d’appareils n’acceptent qu’un ou deux clients : voir qui d’autre est relié.',
  'next-check-gateway': 'Vérifier comment la passerelle attribue les numéros d’unité.',
  'next-check-line':
    'Vérifier la terminaison, le blindage et le débit, et qu’aucun second maître ne parle sur la ligne.',
  'next-wait': 'Une nouvelle tentative se fait d’elle-même.',
  'next-check-device': 'Regarder l’appareil.',
  'next-check-table': 'Vérifier si la valeur est dans une autre table (hr, ir, coil, di).',
  'next-check-address': 'Vérifier l’adresse : « probe » montre aussi ses voisines.',
  'next-check-behind-gateway': 'Vérifier l’appareil derrière la passerelle et le chemin jusqu’à lui.',
};
