// A photograph made small before it waits on the phone.

const LONGEST_PX = 1600;
const QUALITY = 0.82;

export async function smallPhoto(file) {
  try {
    const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
    const scale = Math.min(1, LONGEST_PX / Math.max(picture.width, picture.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.max(1, Math.round(picture.width * scale));
    canvas.height = Math.max(1, Math.round(picture.height * scale));
    canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
    const blob = await new Promise((resolve) => { canvas.toBlob(resolve, "image/jpeg", QUALITY); });
    if (blob) return { bytes: await blob.arrayBuffer(), type: "image/jpeg" };
  } catch { /* a kind of picture this browser does not draw: the server judges it */ }
  return { bytes: await file.arrayBuffer(), type: file.type };
}
