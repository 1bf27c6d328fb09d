import { mount } from "svelte";
import App from "./App.svelte";
import "./style.css";

const target = document.getElementById("desk");
if (target) mount(App, { target });
